using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>GET /v1/releases/{id}: a release as it is, or as of a past moment.</summary>
internal static class GetRelease
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapGet("/{id:guid}", Handle)
        .WithName("getRelease")
        .WithSummary("Read a release")
        .WithDescription("""
            With "at", the release as of that moment: "known=then" shows what had been recorded by then, "known=now"
            (the default) what was so then as we know now, back-dated and amended times applied.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<ReleaseBody>> Handle(
        Guid id, [FromQuery] InstantParameter? at, [FromQuery] string? known,
        Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (known is not (null or "then" or "now"))
        {
            return Problems.Of(
                "query-invalid", "'known' takes then or now.", new ProblemError("known", "Takes then or now."));
        }

        if (at is null && known is not null)
        {
            return Problems.Of(
                "query-invalid", "'known' goes with 'at'.", new ProblemError("known", "Goes with 'at'."));
        }

        await using var session = store.QuerySession(caller.Publisher);
        var moment = at?.Value ?? clock.Now;
        var release = at is null
            ? await session.LoadAsync<Release>(id, cancel)
            : await AsOf(session, id, moment, known is "then", cancel);

        return release is null
            ? Problems.NotFound(at is null ? "release of that id" : "release of that id at that moment")
            : await new ReleaseView(session, moment, cancel).Show(release);
    }

    private static async Task<Release?> AsOf(
        IQuerySession session, Guid id, Instant moment, bool knownThen, CancellationToken cancel)
    {
        var events = await ReleaseEventsOf.Load(session, id, cancel);
        return knownThen ? ReleaseHistory.AsKnownThen(events, moment) : ReleaseHistory.AsKnownNow(events, moment);
    }
}
