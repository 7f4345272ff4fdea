using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Publishers;

/// <summary>GET /v1/publisher: the publisher of the token.</summary>
internal static class GetPublisher
{
    public static void Map(IEndpointRouteBuilder publisher) => publisher
        .MapGet("/", Handle)
        .WithName("getPublisher")
        .WithSummary("Read the publisher")
        .WithDescription("The publisher that the token belongs to, with its zone, working week and days off.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<PublisherBody>> Handle(
        Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        return await session.LoadAsync<Publisher>(caller.Publisher, cancel) is { } publisher
            ? PublisherBody.Of(publisher)
            : Problems.NotFound("publisher");
    }
}
