using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Chart;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/series/{series}/chart: whether the way of working changed.</summary>
internal static class GetChart
{
    private const string Cycle = "cycle";
    private const string Lateness = "lateness";
    private const int LargestBaseline = 200;

    public static void Map(IEndpointRouteBuilder series) => series
        .MapGet("/{series}/chart", Handle)
        .WithName("getChart")
        .WithSummary("Read the behaviour chart")
        .WithDescription("""
            Single values in the order of publication with natural process limits (XmR): "measure" is cycle, lateness or
            the key of a stage, in wall-clock days. Limits rest on the first points of a phase ("baseline", 20 when left
            out) and are frozen then; they begin anew where the cadence or the stage plan changed, and at "restart". A
            signal is worth asking about, and no more: durations are skewed, and alarms by rule 1 more frequent than a
            normal law says.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<ChartBody>> Handle(
        string series, [FromQuery] string? measure, [FromQuery] DateParameter? from, [FromQuery] DateParameter? to,
        [FromQuery] InstantParameter? at, [FromQuery] int? baseline, [FromQuery] DateParameter? restart,
        Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (baseline is < 2 or > LargestBaseline)
        {
            return Unfit("baseline", $"'baseline' takes 2 to {LargestBaseline} points.");
        }

        await using var session = store.QuerySession(caller.Publisher);
        var (scene, problem) = await LearningScene.Load(session, series, from, to, at, clock.Now, cancel);

        if (scene is null)
        {
            return problem!;
        }

        var asked = measure ?? Cycle;

        if (await PointsOf(session, scene, asked, cancel) is not { } points)
        {
            return Unfit("measure", $"'measure' takes cycle, lateness, or the key of a stage; '{asked}' is none.");
        }

        return Show(scene, asked, points, baseline, restart);
    }

    /// <summary>The chart of cycle times, as it is read where nothing else is asked for.</summary>
    public static ChartBody OfCycle(LearningScene scene) =>
        Show(scene, Cycle, ChartPoints.OfCycle(scene.Facts, scene.Series.Zone), baseline: null, restart: null);

    private static ChartBody Show(
        LearningScene scene, string measure, IEnumerable<ChartPoint> points, int? baseline, DateParameter? restart)
    {
        var shown = points.Where(point => scene.Window.Contains(point.At)).ToArray();
        var chart = BehaviourChart.Of(shown, RestartsOf(scene, restart), baseline ?? BehaviourChart.UsualBaseline);

        return new ChartBody(measure, scene.From, scene.To, scene.At, chart, DetectionRules.Texts);
    }

    private static async Task<IReadOnlyList<ChartPoint>?> PointsOf(
        IQuerySession session, LearningScene scene, string measure, CancellationToken cancel) => measure switch
        {
            Cycle => ChartPoints.OfCycle(scene.Facts, scene.Series.Zone),
            Lateness => ChartPoints.OfLateness(
                scene.Facts,
                SeriesJudgement.Judge(
                    scene.Series, await ReleaseMarks.Of(session, scene.Series.Slug, cancel), scene.To, scene.At),
                scene.Series.Zone),
            _ when scene.Facts.Any(release => release.Stages.Any(stage => stage.Key == measure)) =>
                ChartPoints.OfStage(scene.Facts, measure, scene.Series.Zone),
            _ => null,
        };

    /// <summary>The first rule is where the series began, not a change of it.</summary>
    private static IEnumerable<ChartRestart> RestartsOf(LearningScene scene, DateParameter? restart) =>
    [
        .. scene.Series.Cadences.Skip(1).Select(reign => new ChartRestart(
            reign.From.AtStartOfDayInZone(scene.Series.Zone).ToInstant(), RestartReason.Cadence)),
        .. restart is { } said
            ? [new(said.Value.AtStartOfDayInZone(scene.Series.Zone).ToInstant(), RestartReason.Said)]
            : Array.Empty<ChartRestart>(),
    ];

    private static Problem Unfit(string parameter, string detail) =>
        Problems.Of("query-invalid", detail, new ProblemError(parameter, detail));
}

/// <param name="Measure">What is charted.</param>
/// <param name="From">First local date of the window, in the zone of the series; included.</param>
/// <param name="To">Last local date of the window; excluded.</param>
/// <param name="At">As of then, UTC.</param>
/// <param name="Chart">Points, limits by phase, signals.</param>
/// <param name="Rules">What each rule says, rule 1 first; other books use other numbers.</param>
internal sealed record ChartBody(
    string Measure, LocalDate From, LocalDate To, Instant At, BehaviourChart Chart, IReadOnlyList<string> Rules);
