using Marten;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Schedule;

/// <summary>GET /v1/series: every series, by id.</summary>
internal static class ListSeries
{
    public static void Map(IEndpointRouteBuilder series) => series
        .MapGet("/", Handle)
        .WithName("listSeries")
        .WithSummary("List series")
        .WithDescription("By id, closed ones included.")
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<SeriesBody>>> Handle(
        [AsParameters] PageQuery page, Caller caller, HttpContext http, IDocumentStore store, CancellationToken cancel)
    {
        if (page.Read<string>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var found = await session.Query<Series>()
            .Where(series => after == null || series.Slug.CompareTo(after) > 0)
            .OrderBy(series => series.Slug)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        return page.Page(http, found, SeriesBody.Of, series => series.Slug);
    }
}
