namespace Releasekit.Domain.Statistics;

/// <summary>How well a series keeps what its cadence promises.</summary>
public static class Adherence
{
    /// <summary>
    /// The figures of a window: of the slots whose original local date, and the publications whose local date, lies
    /// from <paramref name="from"/>, included, to <paramref name="to"/>, excluded. Streaks do not look beyond it.
    /// </summary>
    public static AdherenceFigures Summarise(JudgedHistory judged, LocalDate from, LocalDate to)
    {
        bool IsInside(LocalDate date) => date >= from && date < to;
        SlotOutcome[] slots = [.. judged.Slots.Where(slot => IsInside(slot.Date))];
        SlotOutcome[] due = [.. slots.Where(slot => slot.IsDue)];
        int Count(SlotStatus status) => slots.Count(slot => slot.Status == status);
        var lateness = LatenessOf(slots);
        return new AdherenceFigures(
            Slots: slots.Length,
            Due: due.Length,
            OnTime: Count(SlotStatus.Met),
            Late: Count(SlotStatus.Late),
            Pending: Count(SlotStatus.Pending),
            Overdue: Count(SlotStatus.Overdue),
            Missed: Count(SlotStatus.Missed),
            Excused: Count(SlotStatus.Excused),
            Future: slots.Count(slot => slot.IsFuture),
            Extra: judged.Extras.Count(extra => IsInside(extra.Local.Date)),
            OnTimeRate: ProportionEstimate.Of(Count(SlotStatus.Met), due.Length),
            LatenessHours: LatenessFigures.Of(lateness.Select(point => point.Hours)),
            CurrentStreak: due.Reverse().TakeWhile(slot => slot.Status == SlotStatus.Met).Count(),
            LongestStreak: LongestStreak(due),
            Gaps: GapFigures.Of(GapFigures.Between(
                [.. judged.Publications.Where(publication => IsInside(publication.Local.Date))], ExcusedDates(slots))),
            Drift: DriftFigures.Of(lateness));
    }

    // Excused slots have no index: a pause is no step in a drift.
    private static List<(int Slot, double Hours)> LatenessOf(SlotOutcome[] slots)
    {
        var points = new List<(int, double)>();
        var index = 0;
        foreach (var slot in slots.Where(slot => slot.Status != SlotStatus.Excused))
        {
            if (slot is { IsDue: true, Lateness: { } lateness })
            {
                points.Add((index, lateness.TotalHours));
            }

            index++;
        }

        return points;
    }

    private static int LongestStreak(SlotOutcome[] due)
    {
        var (longest, current) = (0, 0);
        foreach (var slot in due)
        {
            current = slot.Status == SlotStatus.Met ? current + 1 : 0;
            longest = Math.Max(longest, current);
        }

        return longest;
    }

    private static LocalDate[] ExcusedDates(SlotOutcome[] slots) =>
        [.. slots.Where(slot => slot.Status == SlotStatus.Excused).Select(slot => slot.Date).Order()];
}
