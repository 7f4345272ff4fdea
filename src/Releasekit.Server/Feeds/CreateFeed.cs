using Marten;
using Releasekit.Domain;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Feeds;

/// <summary>POST /v1/feeds: makes a calendar subscription with an address of its own, shown this once.</summary>
internal static class CreateFeed
{
    public static void Map(IEndpointRouteBuilder feeds) => feeds
        .MapPost("/", Handle)
        .WithName("createFeed")
        .WithSummary("Make a calendar feed")
        .WithDescription("""
            The address is secret and shown this once: whoever has it can read the feed, and nothing else. Revoking
            the token that made it leaves the feed alive.
            """)
        .Answers(201, 422)
        .Needs(Scope.Admin);

    private static async Task<Answer<NewFeedBody>> Handle(
        CreateFeedRequest body, Caller caller, HttpRequest request, IDocumentStore store, ServiceClock clock,
        CancellationToken cancel)
    {
        if (Wording.FaultOfLine(body.Name, "A name") is { } fault)
        {
            return Problems.Of("invalid", fault, new ProblemError("/name", fault));
        }

        await using var session = store.LightweightSession(caller.Publisher);
        var series = (body.Series ?? []).Distinct().ToArray();

        foreach (var slug in series)
        {
            if (await session.LoadAsync<Series>(StreamIds.OfSeries(slug), cancel) is null)
            {
                return Problems.Of("series.unknown", $"There is no series '{slug}'.",
                    new ProblemError("/series", $"'{slug}' is unknown."));
            }
        }

        var secret = Secrets.New();
        var feed = new Feed(
            Secrets.IdOf(secret), caller.Publisher, body.Name, series, body.Stages, body.Privacy, clock.Now);
        session.Insert(feed);
        await session.SaveChangesAsync(cancel);

        var url = $"{request.Scheme}://{request.Host}/feeds/{secret}.ics";

        return Http.Answers.Created(
            $"/v1/feeds/{feed.Id}", new NewFeedBody(feed.Id, url, feed.Name, feed.Series, feed.Stages, feed.Privacy));
    }
}

/// <param name="Name">Which device or person it is for; calendars show it.</param>
/// <param name="Series">Ids of the series in it; all of them when left out or empty.</param>
/// <param name="Stages">event (default: subscriptions ignore to-dos), todo or none.</param>
/// <param name="Privacy">full, or busy: entries without titles.</param>
internal sealed record CreateFeedRequest(
    string Name,
    IReadOnlyList<string>? Series = null,
    FeedStages Stages = FeedStages.Event,
    FeedPrivacy Privacy = FeedPrivacy.Full);

/// <param name="Id">Names the feed when it is revoked.</param>
/// <param name="Url">The secret address; it is not shown again.</param>
/// <param name="Name">Which device or person it is for.</param>
/// <param name="Series">Ids of the series in it; empty: all of them.</param>
/// <param name="Stages">How open stages stand in it: event, todo or none.</param>
/// <param name="Privacy">full, or busy: entries without titles.</param>
internal sealed record NewFeedBody(
    Guid Id, string Url, string Name, IReadOnlyList<string> Series, FeedStages Stages, FeedPrivacy Privacy);
