namespace Releasekit.Domain.Statistics.Flow;

/// <summary>
/// What a release's time from its start to its publication went to; for one that is open, up to now. All in elapsed
/// days, each list by the index of the stage.
/// <list type="bullet">
/// <item>working: inside visits and not blocked; two stages at a time count twice;</item>
/// <item>waiting: blocked inside a visit, and times in which no stage was being worked on. These count for the stage
/// that ended them, the last for the publication.</item>
/// </list>
/// Follow-ups, and what is reopened after the publication (a revision), do not belong to it. The publication itself is
/// an act: completed without a start, it took no time here.
/// </summary>
/// <param name="Working">By stage, elapsed days.</param>
/// <param name="Waiting">By stage, elapsed days.</param>
public sealed record TimeSplit(IReadOnlyList<double> Working, IReadOnlyList<double> Waiting)
{
    private const double TicksADay = NodaConstants.TicksPerDay;

    /// <summary>All working time, elapsed days.</summary>
    public double TotalWorking { get; } = Working.Sum();

    /// <summary>All waiting time, elapsed days.</summary>
    public double TotalWaiting { get; } = Waiting.Sum();

    /// <summary>Working of working and waiting, 0 to 1; null when there is neither.</summary>
    public double? Efficiency =>
        TotalWorking + TotalWaiting > 0 ? TotalWorking / (TotalWorking + TotalWaiting) : null;

    /// <summary>
    /// The split; null when a stage that makes the release was completed without a start, as its work cannot then be
    /// told from waiting. A release that was not begun has spent nothing.
    /// </summary>
    public static TimeSplit? TryOf(ReleaseFacts facts)
    {
        var (working, waiting) = (new double[facts.Stages.Count], new double[facts.Stages.Count]);
        if (facts.BegunBy is null)
        {
            return new(working, waiting);
        }

        if (facts.StartedAt is not { } start || VisitsUpTo(facts, facts.LeftAt ?? facts.AsOf) is not { } visits)
        {
            return null;
        }

        var (covered, end) = (start, facts.LeftAt ?? facts.AsOf);
        foreach (var (from, stage, visit) in visits)
        {
            var to = Instant.Min(visit.To ?? end, end);
            var blocked = BlockedTicks(visit, end);
            working[stage] += (Ticks(from, to) - blocked) / TicksADay;
            waiting[stage] += (blocked + Math.Max(0, Ticks(covered, from))) / TicksADay;
            covered = Instant.Max(covered, to);
        }

        waiting[LastStage(facts)] += Math.Max(0, Ticks(covered, end)) / TicksADay;
        return new(working, waiting);
    }

    private static List<(Instant From, int Stage, StageVisit Visit)>? VisitsUpTo(ReleaseFacts facts, Instant end)
    {
        var visits = new List<(Instant From, int Stage, StageVisit Visit)>(facts.Stages.Count);
        for (var stage = 0; stage < facts.Stages.Count; stage++)
        {
            if (facts.Stages[stage].Role is StageRole.FollowUp)
            {
                continue;
            }

            foreach (var visit in facts.Stages[stage].Visits)
            {
                switch (visit.From)
                {
                    case { } from when from < end || visit.To <= end:
                        visits.Add((from, stage, visit));
                        break;
                    case null when facts.Stages[stage].Role is StageRole.Making && visit.To <= end:
                        return null;
                }
            }
        }

        visits.Sort((one, other) => one.From.CompareTo(other.From));
        return visits;
    }

    private static long BlockedTicks(StageVisit visit, Instant end)
    {
        var ticks = 0L;
        foreach (var spell in visit.Blocked)
        {
            ticks += Math.Max(0, Ticks(spell.Start, spell.HasEnd ? Instant.Min(spell.End, end) : end));
        }

        return ticks;
    }

    private static int LastStage(ReleaseFacts facts)
    {
        var last = 0;
        for (var stage = 0; stage < facts.Stages.Count; stage++)
        {
            last = facts.Stages[stage].Role is StageRole.Publication ? stage : last;
        }

        return last;
    }

    private static long Ticks(Instant from, Instant to) => to.ToUnixTimeTicks() - from.ToUnixTimeTicks();
}
