using Marten;
using NodaTime.Text;
using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Entries;

/// <summary>GET /v1/{entries}/{id}.</summary>
internal static class GetEntry
{
    public static void Map<TEntry, TValues, TBody>(
        IEndpointRouteBuilder entries, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged => entries
        .MapGet("/{id:guid}", (
            Guid id, Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel) =>
            Handle(kind, id, caller, store, clock, cancel))
        .WithName($"get{EntryRoutes.Noun(kind.Name)}")
        .WithSummary($"Read {EntryRoutes.WithArticle(kind.Name)}")
        .WithDescription("One that was removed is not found here; the list shows it with removed=true.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<TBody>> Handle<TEntry, TValues, TBody>(
        EntryKind<TEntry, TValues, TBody> kind, Guid id, Caller caller, IDocumentStore store, ServiceClock clock,
        CancellationToken cancel)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        await using var session = store.QuerySession(caller.Publisher);

        return await session.LoadAsync<TEntry>(id, cancel) switch
        {
            { RemovedAt: null } entry => kind.Show(entry, await EntryScene.Load(session, clock.Now, cancel)),
            { RemovedAt: { } removedAt } entry when entry.IsKept(clock.Now) =>
                Removed(kind.Name, kind.AddressOf(id), removedAt),
            _ => Problems.NotFound($"{kind.Name} of that id"),
        };
    }

    /// <summary>Says what became of an entry, and how it comes back.</summary>
    public static Problem Removed(string name, string address, Instant removedAt)
    {
        var until = InstantPattern.General.Format(removedAt + Entry.KeptRemoved);
        return Problems.Of(
            "not-found", $"The {name} was removed; POST {address}/restore brings it back until {until}.");
    }
}
