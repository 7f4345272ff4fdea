using Releasekit.Domain.Schedule;
using Releasekit.Server.Http;

namespace Releasekit.Server.Schedule;

/// <param name="Id">The slug that the publisher chose.</param>
/// <param name="Title">What it is called.</param>
/// <param name="StagePlan">The id of the plan that its releases follow unless they say otherwise.</param>
/// <param name="Cadence">The rule that was set last.</param>
/// <param name="PastCadences">Those that were set before it, first to latest.</param>
/// <param name="OnTimeTolerance">
/// How late still counts as on time, ISO 8601; null: 24 h, or the late window where that is shorter.
/// </param>
/// <param name="EarlyWindow">
/// How early a publication still counts for a slot, ISO 8601; null: 3 days, or half the gap to the slot before where
/// that is shorter.
/// </param>
/// <param name="LateWindow">
/// How late a publication still counts for a slot, ISO 8601; null: per slot the gap to the next one less a day, or
/// half the gap where that is under 48 h.
/// </param>
/// <param name="RiskThreshold">A release is at risk when its probability of meeting the slot falls under it.</param>
/// <param name="Breaks">Those that were not cancelled, in the order they were planned.</param>
/// <param name="OpenedAt">When it was opened, UTC.</param>
/// <param name="ClosedAt">When it was closed, UTC; null while it is open.</param>
internal sealed record SeriesBody(
    string Id,
    string Title,
    string StagePlan,
    CadenceBody Cadence,
    IReadOnlyList<CadenceBody> PastCadences,
    Duration? OnTimeTolerance,
    Duration? EarlyWindow,
    Duration? LateWindow,
    double RiskThreshold,
    IReadOnlyList<BreakBody> Breaks,
    Instant OpenedAt,
    Instant? ClosedAt) : ITagged
{
    public static SeriesBody Of(Series series) => new(
        series.Slug,
        series.Title,
        series.StagePlan,
        CadenceBody.Of(series.Cadences[^1]),
        [.. series.Cadences.SkipLast(1).Select(CadenceBody.Of)],
        series.Settings.OnTimeTolerance,
        series.Settings.EarlyWindow,
        series.Settings.LateWindow,
        series.Settings.RiskThreshold,
        [.. series.Breaks.Where(pause => pause.CancelledAt is null).Select(BreakBody.Of)],
        series.OpenedAt,
        series.ClosedAt);
}

/// <param name="Rrule">RFC 5545 recurrence rule that names days.</param>
/// <param name="Start">The date the rule counts from.</param>
/// <param name="Time">Local time of day of every slot.</param>
/// <param name="Zone">IANA zone id.</param>
/// <param name="From">The first local date it holds for.</param>
internal sealed record CadenceBody(string Rrule, LocalDate Start, LocalTime Time, string Zone, LocalDate From)
{
    public static CadenceBody Of(CadenceReign reign) =>
        new(reign.Terms.Rrule, reign.Terms.Start, reign.Terms.Time, reign.Terms.Zone, reign.From);
}

/// <param name="Id">Names the break when it is cancelled.</param>
/// <param name="From">First day.</param>
/// <param name="To">Last day, included.</param>
/// <param name="Reason">Why, in the publisher's words; null when none was given.</param>
/// <param name="PlannedAt">When it was entered, UTC.</param>
internal sealed record BreakBody(Guid Id, LocalDate From, LocalDate To, string? Reason, Instant PlannedAt)
{
    public static BreakBody Of(PlannedBreak pause) =>
        new(pause.Id, pause.From, pause.To, pause.Reason, pause.RecordedAt);
}
