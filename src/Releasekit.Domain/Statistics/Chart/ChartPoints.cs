using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Chart;

/// <summary>A value of a chart.</summary>
/// <param name="Release">The release it is of.</param>
/// <param name="At">When it was published, UTC: the order of the chart.</param>
/// <param name="Value">In wall-clock days of the series' zone, so that no clock change is taken for a signal.</param>
/// <param name="PlanVersion">The version of the stage plan it was made by.</param>
public sealed record ChartPoint(Guid Release, Instant At, double Value, int PlanVersion);

/// <summary>What can be charted, of published releases in the order of their publication.</summary>
public static class ChartPoints
{
    /// <summary>Publication - start, wall-clock days; releases with an unknown start have no point.</summary>
    public static IReadOnlyList<ChartPoint> OfCycle(IEnumerable<ReleaseFacts> facts, DateTimeZone zone) => InOrder(
        facts,
        one => one.StartedAt is { } start ? DayCount.Between(start, one.PublishedAt!.Value, zone).WallClockDays : null);

    /// <summary>
    /// All visits to a stage, blocked time included, wall-clock days; releases that left it out, and those with an
    /// unknown start of it, have no point.
    /// </summary>
    /// <param name="stage">The key of the stage.</param>
    public static IReadOnlyList<ChartPoint> OfStage(
        IEnumerable<ReleaseFacts> facts, string stage, DateTimeZone zone) => InOrder(facts, one => one.Stages
            .Where(other => other.Key == stage && StageTimes.TimeOf(other) is not null)
            .Select(other => (double?)other.Visits
                .Sum(visit => DayCount.Between(visit.From!.Value, visit.To!.Value, zone).WallClockDays))
            .FirstOrDefault());

    /// <summary>
    /// Publication - promised time of the slot it was judged by, wall-clock days, negative when early; extras have no
    /// point.
    /// </summary>
    /// <param name="judged">The history of the series.</param>
    public static IReadOnlyList<ChartPoint> OfLateness(
        IEnumerable<ReleaseFacts> facts, JudgedHistory judged, DateTimeZone zone)
    {
        var promised = judged.Slots
            .Where(slot => slot is { Release: not null, PublishedAt: not null })
            .ToDictionary(slot => slot.Release!.Value, slot => slot.PromisedAt);
        return InOrder(facts, one => promised.TryGetValue(one.Release, out var at)
            ? DayCount.Between(at, one.PublishedAt!.Value, zone).WallClockDays
            : null);
    }

    private static ChartPoint[] InOrder(IEnumerable<ReleaseFacts> facts, Func<ReleaseFacts, double?> value) =>
    [
        .. facts
            .Where(one => one.PublishedAt is not null)
            .Select(one => (Facts: one, Value: value(one)))
            .Where(one => one.Value is not null)
            .OrderBy(one => one.Facts.PublishedAt)
            .ThenBy(one => one.Facts.Release)
            .Select(one => new ChartPoint(
                one.Facts.Release, one.Facts.PublishedAt!.Value, one.Value!.Value, one.Facts.PlanVersion)),
    ];
}
