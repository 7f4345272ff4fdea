using Marten;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>GET /v1/series/{series}: a series with its cadence, settings and breaks.</summary>
internal static class GetSeries
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapGet("/{series}", Handle)
        .WithName("getSeries")
        .WithSummary("Read a series")
        .WithDescription("With its cadence, earlier cadences, settings and breaks.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<SeriesBody>> Handle(
        string series, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);
        return await session.LoadAsync<Series>(StreamIds.OfSeries(series), cancel) is { } found
            ? SeriesBody.Of(found)
            : Problems.NotFound($"series '{series}'");
    }
}
