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
/// <param name="Title">One line, 1 to 200 characters.</param>
/// <param name="StagePlan">The id of the plan that its releases follow unless they say otherwise.</param>
/// <param name="OnTimeTolerance">
/// How late still counts as on time, ISO 8601, a day being 24 hours; null: worked out from the rule.
/// </param>
/// <param name="EarlyWindow">
/// How early a publication still counts for a slot, ISO 8601; null: worked out from the rule.
/// </param>
/// <param name="LateWindow">
/// How late a publication still counts for a slot, ISO 8601; null: worked out from the rule.
/// </param>
/// <param name="RiskThreshold">
/// A release is at risk when its probability of meeting the slot falls under it, 0 to 1; null: 0.8.
/// </param>
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
