using Marten;
using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Entries;

/// <summary>GET /v1/{entries}: those of a kind, in the order they were entered.</summary>
internal static class ListEntries
{
    public static void Map<TEntry, TValues, TBody, TFilter>(
        IEndpointRouteBuilder entries, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
        where TFilter : IEntryFilter<TEntry>
    {
        // In a variable, as the framework's analyzer stumbles over a filter of any type.
        Delegate handle = (
            [AsParameters] TFilter filter, [AsParameters] EntryQuery common, [AsParameters] PageQuery page,
            Caller caller, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel) =>
            Handle(kind, filter, common, page, caller, http, store, clock, cancel);

        entries.MapGet("/", handle)
            .WithName($"list{EntryRoutes.Noun(kind.Name)}s")
            .WithSummary($"List {kind.Name}s")
            .WithDescription("In the order they were entered. Removed ones are left out, or alone with removed=true.")
            .Needs(Scope.Read);
    }

    private static async Task<Answer<PageBody<TBody>>> Handle<TEntry, TValues, TBody, TFilter>(
        EntryKind<TEntry, TValues, TBody> kind, TFilter filter, EntryQuery common, PageQuery page, Caller caller,
        HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
        where TFilter : IEntryFilter<TEntry>
    {
        if ((page.Read<Guid>(http.Request, out var after) ?? filter.Check()) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await EntryScene.Load(session, clock.Now, cancel);
        var found = await filter.Apply(common.Apply(session.Query<TEntry>(), clock.Now), scene)
            .Where(entry => entry.Id.CompareTo(after) > 0)
            .OrderBy(entry => entry.Id)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        return page.Page(http, found, entry => kind.Show(entry, scene), entry => entry.Id);
    }
}
