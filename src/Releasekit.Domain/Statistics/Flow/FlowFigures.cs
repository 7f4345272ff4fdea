namespace Releasekit.Domain.Statistics.Flow;

/// <summary>The time spent on a stage, of the releases published in a window.</summary>
/// <param name="Key">The stage's key.</param>
/// <param name="Time">
/// Elapsed days of all visits up to now, blocked time included; a skipped stage and one with an unknown start are
/// left out, never 0.
/// </param>
/// <param name="Skipped">How many releases left it out.</param>
/// <param name="StartsUnknown">How many completed it without a start.</param>
/// <param name="WorkingShare">Of all time of these releases, 0 to 1, what was work on this stage.</param>
/// <param name="WaitingShare">Of all time, 0 to 1, what was waiting for it, or blocked in it.</param>
public sealed record StageFlow(
    string Key, Spread Time, int Skipped, int StartsUnknown, Figure WorkingShare, Figure WaitingShare);

/// <summary>A release that is open, and for how long.</summary>
/// <param name="Release">Its id.</param>
/// <param name="AgeDays">Elapsed days from its start to the end of the window.</param>
/// <param name="IsStartUnknown">Whether the age counts from a completion: it is at least that old.</param>
public sealed record OpenAge(Guid Release, double AgeDays, bool IsStartUnknown);

/// <summary>
/// How releases flow, in the words of the Kanban Guide (May 2025) where it has them; the rest is ours. Those that were
/// published in the window [from, to) are counted; those open at its end are followed as far as it.
/// </summary>
/// <param name="Finished">Published in the window: throughput, exact.</param>
/// <param name="Dropped">Dropped in the window; never throughput.</param>
/// <param name="StartsUnknown">Published in the window, start unknown: they have a lead and no cycle time.</param>
/// <param name="ThroughputPerWeek">Finished per seven elapsed days.</param>
/// <param name="Lead">Publication - planned, elapsed days.</param>
/// <param name="LeadInclusive">The same in inclusive days.</param>
/// <param name="Cycle">Publication - start, elapsed days.</param>
/// <param name="CycleInclusive">The same in inclusive days.</param>
/// <param name="QueueBeforeStart">Start - planned, elapsed days; no part of the cycle.</param>
/// <param name="Waiting">Waiting time within the cycle, elapsed days.</param>
/// <param name="FlowEfficiency">
/// Sum of working over sum of working and waiting time: a ratio of sums. Interval: normal, by the linearised variance
/// of a ratio (Cochran 1977, from memory), cut to 0 to 1; none below two releases.
/// </param>
/// <param name="Stages">In working order of the plan that was used last.</param>
/// <param name="Little">Work in progress and the gap of Little's law.</param>
/// <param name="CycleWithOpen">Kaplan-Meier of the cycle, of releases begun in the window.</param>
/// <param name="LeadWithOpen">Kaplan-Meier of the lead, of releases planned in the window.</param>
/// <param name="Open">Begun and open at the end of the window, the oldest first.</param>
public sealed record FlowFigures(
    int Finished,
    int Dropped,
    int StartsUnknown,
    Figure ThroughputPerWeek,
    Spread Lead,
    Spread LeadInclusive,
    Spread Cycle,
    Spread CycleInclusive,
    Spread QueueBeforeStart,
    Spread Waiting,
    Figure FlowEfficiency,
    IReadOnlyList<StageFlow> Stages,
    LittlesLaw Little,
    SurvivalCurve CycleWithOpen,
    SurvivalCurve LeadWithOpen,
    IReadOnlyList<OpenAge> Open)
{
    /// <summary>The figures of a window.</summary>
    /// <param name="facts">Of all releases of the series, as of <paramref name="to"/> or later, in any order.</param>
    /// <param name="from">UTC, included.</param>
    /// <param name="to">UTC, excluded, after <paramref name="from"/> and not to come.</param>
    /// <param name="zone">The series' zone, for inclusive days.</param>
    /// <exception cref="ArgumentOutOfRangeException">The window is empty.</exception>
    public static FlowFigures Of(IReadOnlyList<ReleaseFacts> facts, Instant from, Instant to, DateTimeZone zone)
    {
        ReleaseFacts[] published = [.. facts.Where(one => one.PublishedAt >= from && one.PublishedAt < to)];
        ReleaseFacts[] cycled = [.. published.Where(one => one.StartedAt is not null)];
        DayCount[] leads =
            [.. published.Select(one => DayCount.Between(one.PlannedAt, one.PublishedAt!.Value, zone))];
        DayCount[] cycles =
            [.. cycled.Select(one => DayCount.Between(one.StartedAt!.Value, one.PublishedAt!.Value, zone))];
        TimeSplit?[] splits = [.. published.Select(TimeSplit.TryOf)];
        TimeSplit[] told = [.. splits.OfType<TimeSplit>()];
        return new FlowFigures(
            published.Length,
            facts.Count(one => one.DroppedAt >= from && one.DroppedAt < to),
            published.Length - cycled.Length,
            Figure.Counted(published.Length / (to - from).TotalDays * 7, FigureUnit.ReleasesPerWeek, published.Length),
            Spread.Of([.. leads.Select(lead => lead.ElapsedDays)], FigureUnit.ElapsedDays),
            Spread.Of([.. leads.Select(lead => (double)lead.InclusiveDays)], FigureUnit.InclusiveDays),
            Spread.Of([.. cycles.Select(cycle => cycle.ElapsedDays)], FigureUnit.ElapsedDays),
            Spread.Of([.. cycles.Select(cycle => (double)cycle.InclusiveDays)], FigureUnit.InclusiveDays),
            Spread.Of(
                [.. cycled.Select(one => (one.StartedAt!.Value - one.PlannedAt).TotalDays)], FigureUnit.ElapsedDays),
            Spread.Of([.. told.Select(split => split.TotalWaiting)], FigureUnit.ElapsedDays),
            FlowShares.Efficiency(told),
            StageTimes.Of(published, splits),
            LittlesLaw.Of(facts, from, to),
            SurvivalCurve.Of(Followed(facts, one => one.StartedAt, from, to)),
            SurvivalCurve.Of(Followed(facts, one => one.PlannedAt, from, to)),
            OpenAt(facts, to));
    }

    /// <summary>How long releases that begin in the window took, or have been followed up to its end.</summary>
    private static IEnumerable<FollowedTime> Followed(
        IEnumerable<ReleaseFacts> facts, Func<ReleaseFacts, Instant?> beginning, Instant from, Instant to)
    {
        foreach (var release in facts)
        {
            if (beginning(release) is { } began && began >= from && began < to)
            {
                var end = Instant.Min(release.LeftAt ?? to, to);
                yield return new((end - began).TotalDays, release.PublishedAt < to);
            }
        }
    }

    private static OpenAge[] OpenAt(IEnumerable<ReleaseFacts> facts, Instant at) =>
    [
        .. facts
            .Where(one => one.BegunBy < at && !(one.LeftAt < at))
            .Select(one => new OpenAge(one.Release, (at - one.BegunBy!.Value).TotalDays, one.IsStartUnknown))
            .OrderByDescending(one => one.AgeDays),
    ];
}
