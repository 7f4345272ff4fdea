using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Publishers;

/// <summary>GET /v1/publishers: every publisher of the service, by id.</summary>
internal static class ListPublishers
{
    public static void Map(IEndpointRouteBuilder publishers) => publishers
        .MapGet("/", Handle)
        .WithName("listPublishers")
        .WithSummary("List publishers")
        .WithDescription("By id.")
        .Needs(Scope.Operator);

    private static async Task<Answer<PageBody<PublisherBody>>> Handle(
        [AsParameters] PageQuery page, HttpContext http, IDocumentStore store, CancellationToken cancel)
    {
        if (page.Read<string>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession();
        var publishers = await session.Query<Publisher>()
            .Where(publisher => after == null || publisher.Id.CompareTo(after) > 0)
            .OrderBy(publisher => publisher.Id)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        return page.Page(http, publishers, PublisherBody.Of, publisher => publisher.Id);
    }
}
