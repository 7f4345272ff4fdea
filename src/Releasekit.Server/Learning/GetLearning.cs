using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Schedule;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/learning: flow, chart and cadence of every series at once.</summary>
internal static class GetLearning
{
    public static void Map(IEndpointRouteBuilder learning) => learning
        .MapGet("/", Handle)
        .WithName("getLearning")
        .WithSummary("Read what is learnt from all series")
        .WithDescription("""
            Of each series what its own addresses say: how the work flows, the behaviour chart of cycle times, and how
            the cadence was kept. The last 365 days when the window is left out.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<LearningBody>> Handle(
        [FromQuery] DateParameter? from, [FromQuery] DateParameter? to, [FromQuery] InstantParameter? at,
        Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);
        var (scenes, problem) = await LearningScene.LoadAll(session, from, to, at, clock.Now, cancel);

        return problem is not null ? problem : new LearningBody([.. scenes.Select(SeriesLearningBody.Of)]);
    }
}

/// <param name="Items">By series.</param>
internal sealed record LearningBody(IReadOnlyList<SeriesLearningBody> Items);

/// <param name="Series">The id of the series.</param>
/// <param name="Flow">As GET /v1/series/{series}/flow.</param>
/// <param name="Chart">As GET /v1/series/{series}/chart.</param>
/// <param name="Cadence">As GET /v1/series/{series}/cadence.</param>
internal sealed record SeriesLearningBody(string Series, FlowBody Flow, ChartBody Chart, AdherenceBody Cadence)
{
    public static SeriesLearningBody Of(LearningScene scene)
    {
        var judged = SeriesJudgement.Judge(
            scene.Series,
            [
                .. scene.Facts.Where(facts => facts.DroppedAt is null)
                    .Select(facts => new ReleaseMark(facts.Release, facts.Slot, facts.PublishedAt)),
            ],
            scene.To,
            scene.At);

        return new(
            scene.Series.Slug,
            FlowBody.Of(scene),
            GetChart.OfCycle(scene),
            AdherenceBody.Of(scene.From, scene.To, scene.At, Adherence.Summarise(judged, scene.From, scene.To)));
    }
}
