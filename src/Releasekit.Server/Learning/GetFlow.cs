using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/series/{series}/flow: how the work flows from the plan to the publication.</summary>
internal static class GetFlow
{
    public static void Map(IEndpointRouteBuilder series) => series
        .MapGet("/{series}/flow", Handle)
        .WithName("getFlow")
        .WithSummary("Read how the work flows")
        .WithDescription("""
            Of the releases published in the window: lead time (planned to published), cycle time (first start to
            published), time by stage, waiting, flow efficiency, throughput; with what is open counted in
            (Kaplan-Meier), the gap of Little's law and which releases make it, and the cumulative flow day by day.
            Elapsed days; each figure with the number it rests on and its 95 % interval, or with the reason why there
            is none. The last 365 days when the window is left out. "format=csv" gives the figures as a table.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<FlowAnswer> Handle(
        string series, [FromQuery] DateParameter? from, [FromQuery] DateParameter? to,
        [FromQuery] InstantParameter? at, [FromQuery] string? format, Caller caller, IDocumentStore store,
        ServiceClock clock, CancellationToken cancel)
    {
        if (format is not (null or "json" or "csv"))
        {
            return new FlowAnswer(Problems.Of(
                "query-invalid", "'format' takes json or csv.", new ProblemError("format", "Takes json or csv.")));
        }

        await using var session = store.QuerySession(caller.Publisher);
        var (scene, problem) = await LearningScene.Load(session, series, from, to, at, clock.Now, cancel);

        if (scene is null)
        {
            return new FlowAnswer(problem!);
        }

        var flow = FlowBody.Of(scene);

        return new FlowAnswer(flow, format is "csv" ? FlowTable.Of(flow.Figures) : null);
    }
}

/// <summary>The figures as data or as a table.</summary>
internal sealed class FlowAnswer : Answer<FlowBody>
{
    private readonly string? _table;

    public FlowAnswer(Problem problem)
        : base(null, problem)
    {
    }

    /// <param name="table">The same as a table, where one was asked for.</param>
    public FlowAnswer(FlowBody body, string? table)
        : base(body, null) => _table = table;

    public override Task ExecuteAsync(HttpContext http)
    {
        if (_table is null)
        {
            return base.ExecuteAsync(http);
        }

        http.Response.ContentType = "text/csv; charset=utf-8";
        return http.Response.WriteAsync(_table, http.RequestAborted);
    }
}

/// <param name="From">First local date of the window, in the zone of the series; included.</param>
/// <param name="To">Last local date of the window; excluded.</param>
/// <param name="At">As of then, UTC.</param>
/// <param name="Figures">The figures of the window.</param>
/// <param name="Cumulative">How many had come how far by the end of each day; null without releases.</param>
internal sealed record FlowBody(
    LocalDate From, LocalDate To, Instant At, FlowFigures Figures, CumulativeFlow? Cumulative)
{
    public static FlowBody Of(LearningScene scene) => new(
        scene.From,
        scene.To,
        scene.At,
        FlowFigures.Of(scene.Facts, scene.Window.Start, scene.Window.End, scene.Series.Zone),
        CumulativeOf(scene));

    /// <summary>The stages are those of the release that was planned last; days to come are left out.</summary>
    private static CumulativeFlow? CumulativeOf(LearningScene scene)
    {
        if (scene.Facts.MaxBy(release => release.PlannedAt) is not { } latest)
        {
            return null;
        }

        var zone = scene.Series.Zone;
        string[] stages = [.. latest.Stages.Select(stage => stage.Key)];
        var last = LocalDate.Min(scene.To.PlusDays(-1), scene.At.InZone(zone).Date);

        return CumulativeFlow.Of(
            [.. scene.Facts.Select(release => FlowPath.Of(release, stages, zone))], stages, scene.From, last);
    }
}
