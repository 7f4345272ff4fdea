namespace Releasekit.Domain.Statistics.Flow;

/// <summary>The way of a release through the stages.</summary>
/// <param name="Entries">
/// When it entered a stage, in that order: the local date, and the index of the stage in the list it is counted by.
/// </param>
/// <param name="DroppedOn">The local date it was dropped on; null when it was not.</param>
public sealed record FlowPath(IReadOnlyList<(LocalDate Day, int Stage)> Entries, LocalDate? DroppedOn)
{
    /// <summary>
    /// The way of a release: it enters a stage at its start, or at its completion where the start is unknown, and the
    /// publication when it is published. What is reopened after the publication moves it no more; stages that are not
    /// in the list are passed over.
    /// </summary>
    /// <param name="stages">Keys of the stages, in working order.</param>
    /// <param name="zone">The zone of the series, by which a day ends.</param>
    public static FlowPath Of(ReleaseFacts facts, IReadOnlyList<string> stages, DateTimeZone zone)
    {
        List<(Instant At, int Stage)> entries = [];
        foreach (var stage in facts.Stages)
        {
            var index = IndexOf(stages, stage.Key);
            foreach (var visit in stage.Visits)
            {
                if (index >= 0 && EntryOf(facts, stage.Role, visit) is { } at)
                {
                    entries.Add((at, index));
                }
            }
        }

        return new(
            [.. entries.OrderBy(e => e.At).ThenBy(e => e.Stage).Select(e => (e.At.InZone(zone).Date, e.Stage))],
            facts.DroppedAt?.InZone(zone).Date);
    }

    private static Instant? EntryOf(ReleaseFacts facts, StageRole role, StageVisit visit) => role switch
    {
        StageRole.Publication => visit.To is null ? null : facts.PublishedAt,
        StageRole.Making when (visit.From ?? visit.To) > facts.PublishedAt => null,
        _ => visit.From ?? visit.To,
    };

    private static int IndexOf(IReadOnlyList<string> stages, string key)
    {
        for (var i = 0; i < stages.Count; i++)
        {
            if (stages[i] == key)
            {
                return i;
            }
        }

        return -1;
    }
}

/// <summary>
/// How many releases had come how far by the end of each local day (a day of 23 or 25 hours is one day). The area
/// between the first and the last of the series is the sum of dates of finish less dates of start, once all finished.
/// </summary>
/// <param name="Stages">Keys, in working order.</param>
/// <param name="Days">Local dates, consecutive.</param>
/// <param name="Reached">
/// By stage, then day: ever reached that stage or a later one. Never falls, and never lies above the stage before;
/// a skipped stage counts as reached, a move back changes nothing, and what was dropped still counts.
/// </param>
/// <param name="Current">By stage, then day: in that stage at the day's end, the last entered; without dropped.</param>
/// <param name="Dropped">By day: dropped by then.</param>
public sealed record CumulativeFlow(
    IReadOnlyList<string> Stages,
    IReadOnlyList<LocalDate> Days,
    IReadOnlyList<IReadOnlyList<int>> Reached,
    IReadOnlyList<IReadOnlyList<int>> Current,
    IReadOnlyList<int> Dropped)
{
    /// <summary>The series of these ways from a day to a later one, both included.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The last day is before the first.</exception>
    public static CumulativeFlow Of(
        IReadOnlyList<FlowPath> paths, IReadOnlyList<string> stages, LocalDate firstDay, LocalDate lastDay)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(lastDay, firstDay);
        LocalDate[] days =
            [.. Enumerable.Range(0, Period.DaysBetween(firstDay, lastDay) + 1).Select(firstDay.PlusDays)];
        int[][] reached = [.. stages.Select(_ => new int[days.Length])];
        int[][] current = [.. stages.Select(_ => new int[days.Length])];
        var dropped = new int[days.Length];
        foreach (var path in paths)
        {
            CountReached(path, firstDay, reached);
            CountCurrent(path, firstDay, current);
            Change(dropped, IndexOf(path.DroppedOn, firstDay), 1);
        }

        return new(stages, days, [.. reached.Select(RunningSums)], [.. current.Select(RunningSums)],
            RunningSums(dropped));
    }

    private static void CountReached(FlowPath path, LocalDate firstDay, int[][] reached)
    {
        var furthest = -1;
        foreach (var (day, stage) in path.Entries)
        {
            for (; furthest < stage; furthest++)
            {
                Change(reached[furthest + 1], IndexOf(day, firstDay), 1);
            }
        }
    }

    private static void CountCurrent(FlowPath path, LocalDate firstDay, int[][] current)
    {
        int? before = null;
        foreach (var (day, stage) in path.Entries)
        {
            Leave(before, day);
            Change(current[stage], IndexOf(day, firstDay), 1);
            before = stage;
        }

        Leave(before, path.DroppedOn);

        void Leave(int? stage, LocalDate? day)
        {
            if (stage is { } left)
            {
                Change(current[left], IndexOf(day, firstDay), -1);
            }
        }
    }

    // What happened before the first day is there on it; what never happened is beyond the last.
    private static int IndexOf(LocalDate? day, LocalDate firstDay) =>
        day is { } date ? Math.Max(0, Period.DaysBetween(firstDay, date)) : int.MaxValue;

    private static void Change(int[] changes, int day, int by)
    {
        if (day < changes.Length)
        {
            changes[day] += by;
        }
    }

    private static int[] RunningSums(int[] changes)
    {
        for (var day = 1; day < changes.Length; day++)
        {
            changes[day] += changes[day - 1];
        }

        return changes;
    }
}
