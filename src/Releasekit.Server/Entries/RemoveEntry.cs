using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Entries;

/// <summary>DELETE /v1/{entries}/{id}: out of sight, and kept for a month.</summary>
internal static class RemoveEntry
{
    public static void Map<TEntry, TValues, TBody>(
        IEndpointRouteBuilder entries, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged => entries
        .MapDelete("/{id:guid}", (
            Guid id, Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
            ledger.Write<Nothing>(caller.Publisher, async unit =>
            {
                var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);
                var (entry, problem) = await EntryToChange.Find(kind, unit, id, request, scene);

                if (entry is null)
                {
                    return problem!;
                }

                EntryWriting.Store(kind, unit.Documents, entry with { RemovedAt = scene.Now, ChangedAt = scene.Now });
                return Http.Answers.NoContent();
            }, cancel))
        .WithName($"remove{EntryRoutes.Noun(kind.Name)}")
        .WithSummary($"Remove {EntryRoutes.WithArticle(kind.Name)}")
        .WithDescription("It is kept for 30 days and can be restored.")
        .Answers(204, 404, 412, 428)
        .Needs(Scope.Write);
}
