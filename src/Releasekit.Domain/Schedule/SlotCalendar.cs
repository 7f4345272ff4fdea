namespace Releasekit.Domain.Schedule;

/// <summary>
/// The slots of a series: its rules expanded, with what was decided about single ones. Only decisions made before a
/// slot's time change what was promised; later ones move it in the calendar and leave the promise.
/// </summary>
public static class SlotCalendar
{
    private static readonly Duration Day = Duration.FromHours(24);

    /// <summary>The slots whose original local date lies in [from, to), by that date.</summary>
    public static IReadOnlyList<Slot> Between(Series series, LocalDate from, LocalDate to)
    {
        var changes = series.SlotChanges.ToLookup(change => change.Slot);
        var slots = new SortedDictionary<LocalDate, Slot>();

        for (var i = 0; i < series.Cadences.Count; i++)
        {
            var rule = RuleOf(series.Cadences[i].Terms);
            var first = LocalDate.Max(from, series.Cadences[i].From);
            var last = LocalDate.Min(to, EndOf(series, i));

            // Beyond the rule's end only a slot that was moved forward can have been promised under it.
            var moved = changes
                .Select(change => change.Key)
                .Where(date => date >= LocalDate.Max(first, last) && date < to && rule.Contains(date));

            foreach (var date in rule.Between(first, last).Concat(moved))
            {
                // Where two rules name the same date, the earlier one made its promise first.
                if (!slots.ContainsKey(date) && SlotOf(series, i, rule, date, changes[date]) is { } slot)
                {
                    slots.Add(date, slot);
                }
            }
        }

        return [.. slots.Values];
    }

    /// <summary>The slot of that original local date; null when the series promised none.</summary>
    public static Slot? Find(Series series, LocalDate date)
    {
        for (var i = 0; i < series.Cadences.Count; i++)
        {
            if (date < series.Cadences[i].From)
            {
                continue;
            }

            var rule = RuleOf(series.Cadences[i].Terms);
            var changes = series.SlotChanges.Where(change => change.Slot == date);

            if (rule.Contains(date) && SlotOf(series, i, rule, date, changes) is { } slot)
            {
                return slot;
            }
        }

        return null;
    }

    /// <summary>
    /// The tolerance that holds: the series' own, or 24 h where the late window leaves room for that.
    /// </summary>
    public static Duration ToleranceOf(Series series) =>
        series.Settings.OnTimeTolerance
            ?? Duration.Min(Day, series.Settings.LateWindow ?? ShortestLateWindow(series.Cadence));

    /// <summary>The default late window over the shortest gap of the rule.</summary>
    internal static Duration ShortestLateWindow(CadenceTerms terms) =>
        RuleOf(terms).ShortestGapDays is { } days ? DefaultLateWindow(Duration.FromDays(days)) : Day * 6;

    /// <summary>The parsed rule; the terms of a recorded cadence always parse.</summary>
    internal static CadenceRule RuleOf(CadenceTerms terms) =>
        CadenceRule.TryParse(terms.Rrule, terms.Start, out var refusal)
        ?? throw new InvalidOperationException($"A recorded cadence no longer parses: {refusal?.Reason}");

    private static Slot? SlotOf(
        Series series, int reignIndex, CadenceRule rule, LocalDate date, IEnumerable<SlotChange> changes)
    {
        var reign = series.Cadences[reignIndex];
        var zone = LocalTimes.FindZone(reign.Terms.Zone)!;
        var original = LocalTimes.ToInstant(date + reign.Terms.Time, zone);

        SlotChange[] decided = [.. changes];
        var standing = SlotStanding.After(decided, original, zone);

        if (!Reigns(series, reignIndex, date, standing.PromisedAt))
        {
            return null;
        }

        var touching = BreaksTouching(series, date, decided);

        return new Slot(
            date,
            standing.At,
            standing.PromisedAt,
            reign.Terms.Zone,
            standing.GivenUp ?? BreakOver(series, standing.PromisedAt, zone),
            series.Settings.EarlyWindow ?? DefaultEarlyWindow(rule, reign.Terms, zone, date, original),
            series.Settings.LateWindow ?? DefaultLateWindow(rule, reign.Terms, zone, date, original),
            Revision: reignIndex + standing.Count + touching.Sum(b => b.CancelledAt is null ? 1 : 2),
            ChangedAt: touching
                .Select(b => b.CancelledAt ?? b.RecordedAt)
                .Append(Instant.Max(reign.RecordedAt, standing.ChangedAt))
                .Max())
        {
            WasGivenUp = standing.WasGivenUp,
        };
    }

    /// <summary>
    /// Whether the slot belongs to that rule: promised under it, and its time
    /// not left to come when another rule, or the end of the series, took over.
    /// </summary>
    private static bool Reigns(Series series, int index, LocalDate date, Instant promisedAt)
    {
        var reign = series.Cadences[index];

        // The first rule may be back-dated: a history is imported under it. A later one promises nothing for the past.
        var came = date >= reign.From && (index == 0 || promisedAt > reign.RecordedAt);
        var went = series.Cadences.Skip(index + 1).Any(next => date >= next.From && promisedAt > next.RecordedAt)
            || (series.ClosedAt is { } closed && promisedAt > closed);

        return came && !went;
    }

    /// <summary>A date from which on the rule has no slot that stands where the rule puts it.</summary>
    private static LocalDate EndOf(Series series, int index)
    {
        var zone = LocalTimes.FindZone(series.Cadences[index].Terms.Zone)!;
        var ends = series.Cadences
            .Skip(index + 1)
            .Select(next => LocalDate.Max(next.From, DayAfter(next.RecordedAt)));

        return ends.Append(series.ClosedAt is { } closed ? DayAfter(closed) : LocalDate.MaxIsoValue).Min();

        LocalDate DayAfter(Instant instant) => instant.InZone(zone).Date.PlusDays(1);
    }

    /// <summary>The breaks over any date the slot ever stood on: what was decided of them concerns it.</summary>
    private static PlannedBreak[] BreaksTouching(Series series, LocalDate date, IEnumerable<SlotChange> changes)
    {
        LocalDate[] stood = [date, .. changes.Select(change => change.To?.Date).OfType<LocalDate>()];

        return [.. series.Breaks.Where(pause => stood.Any(pause.Covers))];
    }

    private static SlotExcuse? BreakOver(Series series, Instant promisedAt, DateTimeZone zone)
    {
        var date = promisedAt.InZone(zone).Date;
        var pause = series.Breaks.FirstOrDefault(b => b.Covers(date)
            && b.RecordedAt < promisedAt
            && (b.CancelledAt is null || b.CancelledAt >= promisedAt));

        return pause is null ? null : new SlotExcuse(GivenUp: false, pause.Reason);
    }

    private static Duration DefaultEarlyWindow(
        CadenceRule rule, CadenceTerms terms, DateTimeZone zone, LocalDate date, Instant original) =>
        rule.Before(date) is { } before
            ? Duration.Min(Day * 3, (original - LocalTimes.ToInstant(before + terms.Time, zone)) / 2)
            : Day * 3;

    private static Duration DefaultLateWindow(
        CadenceRule rule, CadenceTerms terms, DateTimeZone zone, LocalDate date, Instant original)
    {
        if (rule.After(date) is { } after)
        {
            return DefaultLateWindow(LocalTimes.ToInstant(after + terms.Time, zone) - original);
        }

        return rule.Before(date) is { } before
            ? DefaultLateWindow(original - LocalTimes.ToInstant(before + terms.Time, zone))
            : Day * 6;
    }

    private static Duration DefaultLateWindow(Duration gap) => gap < Day * 2 ? gap / 2 : gap - Day;
}
