using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Entries;

/// <summary>POST /v1/{entries}/{id}/restore: a removed entry comes back as it was.</summary>
internal static class RestoreEntry
{
    public static void Map<TEntry, TValues, TBody>(
        IEndpointRouteBuilder entries, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged => entries
        .MapPost("/{id:guid}/restore", (
            Guid id, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
            ledger.Write<TBody>(caller.Publisher, async unit =>
            {
                var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);

                if (await unit.Documents.LoadAsync<TEntry>(id, cancel) is not { } entry || !entry.IsKept(scene.Now))
                {
                    return Problems.NotFound($"{kind.Name} of that id");
                }

                if (entry.RemovedAt is not null)
                {
                    entry = entry with { RemovedAt = null, ChangedAt = scene.Now };
                    EntryWriting.Store(kind, unit.Documents, entry);
                }

                return kind.Show(entry, scene);
            }, cancel))
        .WithName($"restore{EntryRoutes.Noun(kind.Name)}")
        .WithSummary($"Restore {EntryRoutes.WithArticle(kind.Name)}")
        .WithDescription("Within 30 days of its removal. One that stands is left as it is.")
        .Answers(200, 404)
        .Needs(Scope.Write);
}
