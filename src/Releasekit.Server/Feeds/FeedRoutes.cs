using Releasekit.Server.Access;

namespace Releasekit.Server.Feeds;

/// <summary>Every route of feeds: making and revoking them, and the secret address itself.</summary>
internal static class FeedRoutes
{
    public static void MapFeeds(this IEndpointRouteBuilder api)
    {
        var feeds = api.MapGroup("/feeds").WithTags("Feeds");

        CreateFeed.Map(feeds);
        ListFeeds.Map(feeds);
        RevokeFeed.Map(feeds);
    }

    /// <summary>The address that calendars fetch; its secret is all it needs.</summary>
    public static void MapFeedAddress(this IEndpointRouteBuilder routes) =>
        GetFeed.Map(routes.MapGroup(string.Empty).WithTags("Feeds").NeedsNoToken());
}
