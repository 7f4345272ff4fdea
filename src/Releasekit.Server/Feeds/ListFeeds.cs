using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Feeds;

/// <summary>GET /v1/feeds: the publisher's feeds, without their secret addresses.</summary>
internal static class ListFeeds
{
    public static void Map(IEndpointRouteBuilder feeds) => feeds
        .MapGet("/", Handle)
        .WithName("listFeeds")
        .WithSummary("List calendar feeds")
        .WithDescription("Without their secret addresses, with their last fetch to the minute.")
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<FeedBody>>> Handle(
        [AsParameters] PageQuery page, Caller caller, HttpContext http, IDocumentStore store, CancellationToken cancel)
    {
        if (page.Read<Guid>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession();
        var feeds = await session.Query<Feed>()
            .Where(feed => feed.Publisher == caller.Publisher && feed.Id.CompareTo(after) > 0)
            .OrderBy(feed => feed.Id)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        return page.Page(http, feeds, FeedBody.Of, feed => feed.Id);
    }
}

/// <param name="Id">Names the feed when it is revoked.</param>
/// <param name="Name">Which device or person it is for.</param>
/// <param name="Series">Ids of the series in it; empty: all of them.</param>
/// <param name="Stages">How open stages stand in it: event, todo or none.</param>
/// <param name="Privacy">full, or busy: entries without titles.</param>
/// <param name="CreatedAt">When it was made, UTC.</param>
/// <param name="LastFetchedAt">When it was last fetched, UTC, to the minute; null while nobody did.</param>
internal sealed record FeedBody(
    Guid Id, string Name, IReadOnlyList<string> Series, FeedStages Stages, FeedPrivacy Privacy, Instant CreatedAt,
    Instant? LastFetchedAt)
{
    public static FeedBody Of(Feed feed) => new(
        feed.Id, feed.Name, feed.Series, feed.Stages, feed.Privacy, feed.CreatedAt, feed.LastFetchedAt);
}
