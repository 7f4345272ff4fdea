using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Entries;

/// <summary>PATCH /v1/{entries}/{id}.</summary>
internal static class ChangeEntry
{
    public static void Map<TEntry, TValues, TBody>(
        IEndpointRouteBuilder entries, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged => entries
        .MapPatch("/{id:guid}", (
            Guid id, MergePatch<TValues> patch, Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock,
            CancellationToken cancel) =>
            ledger.Write<TBody>(caller.Publisher, async unit =>
            {
                var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);
                var (before, problem) = await EntryToChange.Find(kind, unit, id, request, scene);

                if (before is null)
                {
                    return problem!;
                }

                (var changed, problem) = await EntryWriting.Write(
                    kind, unit, before, patch.ApplyTo(kind.ValuesOf(before)), id, scene);
                return problem is not null ? problem : kind.Show(changed, scene);
            }, cancel))
        .WithName($"change{EntryRoutes.Noun(kind.Name)}")
        .WithSummary($"Change {EntryRoutes.WithArticle(kind.Name)}")
        .WithDescription("A JSON Merge Patch; null empties a member, lists are replaced whole.")
        .Answers(200, 404, 409, 412, 422, 428)
        .Needs(Scope.Write);
}

/// <summary>Finds the entry that a change was made for.</summary>
internal static class EntryToChange
{
    public static async Task<(TEntry? Entry, Problem? Problem)> Find<TEntry, TValues, TBody>(
        EntryKind<TEntry, TValues, TBody> kind, UnitOfWork unit, Guid id, HttpRequest request, EntryScene scene)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        var entry = await unit.Documents.LoadAsync<TEntry>(id, scene.Cancel);

        if (entry is { RemovedAt: { } removedAt } && entry.IsKept(scene.Now))
        {
            return (null, GetEntry.Removed(kind.Name, kind.AddressOf(id), removedAt));
        }

        if (entry is not { RemovedAt: null })
        {
            return (null, Problems.NotFound($"{kind.Name} of that id"));
        }

        return ETags.CheckIfMatch(request, kind.Show(entry, scene)) is { } stale ? (null, stale) : (entry, null);
    }
}
