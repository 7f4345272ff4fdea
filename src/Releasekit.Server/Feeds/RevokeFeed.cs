using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Feeds;

/// <summary>DELETE /v1/feeds/{id}: the feed's address stops working at once.</summary>
internal static class RevokeFeed
{
    public static void Map(IEndpointRouteBuilder feeds) => feeds
        .MapDelete("/{id:guid}", Handle)
        .WithName("revokeFeed")
        .WithSummary("Revoke a calendar feed")
        .WithDescription("Its address stops working at once.")
        .Answers(204, 404)
        .Needs(Scope.Admin);

    private static async Task<Answer<Nothing>> Handle(
        Guid id, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        var feed = await session.LoadAsync<Feed>(id, cancel);

        if (feed is null || feed.Publisher != caller.Publisher)
        {
            return Problems.NotFound("feed of that id");
        }

        session.Delete(feed);
        await session.SaveChangesAsync(cancel);

        return Http.Answers.NoContent();
    }
}
