using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Plans;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>PATCH /v1/series/{series}: changes title, stage plan, tolerance or windows.</summary>
internal static class ChangeSeries
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapPatch("/{series}", Handle)
        .WithName("changeSeries")
        .WithSummary("Change a series")
        .WithDescription(
            "A JSON Merge Patch; null takes a setting's default. Settings apply to the whole history. The cadence has "
                + "an address of its own.")
        .Answers(200, 404, 412, 422, 428)
        .Needs(Scope.Write);

    private static Task<Answer<SeriesBody>> Handle(
        string series, MergePatch<SeriesValues> patch, Caller caller, HttpRequest request, Ledger ledger,
        ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<SeriesBody>(caller.Publisher, async unit =>
        {
            if (await unit.Series(series) is not { } stream)
            {
                return Problems.NotFound($"series '{series}'");
            }

            if (ETags.CheckIfMatch(request, SeriesBody.Of(stream.State)) is { } stale)
            {
                return stale;
            }

            var values = patch.ApplyTo(SeriesValues.Of(stream.State));

            if (await unit.Documents.LoadAsync<StagePlanVersions>(values.StagePlan, cancel) is null)
            {
                return KnownPlans.Unknown(values.StagePlan);
            }

            return stream.Append(SeriesDecider.Amend(
                stream.State, values.Title, values.StagePlan, values.ToSettings(), clock.Now)) is { } refusal
                    ? Problems.Of(refusal)
                    : SeriesBody.Of(stream.State);
        }, cancel);
}

/// <summary>What of a series can be changed.</summary>
internal sealed record SeriesValues(
    string Title,
    string StagePlan,
    Duration? OnTimeTolerance = null,
    Duration? EarlyWindow = null,
    Duration? LateWindow = null,
    double? RiskThreshold = null)
{
    public static SeriesValues Of(Series series) => new(
        series.Title,
        series.StagePlan,
        series.Settings.OnTimeTolerance,
        series.Settings.EarlyWindow,
        series.Settings.LateWindow,
        series.Settings.RiskThreshold);

    public SeriesSettings ToSettings() => new(OnTimeTolerance, EarlyWindow, LateWindow, RiskThreshold ?? 0.8);
}
