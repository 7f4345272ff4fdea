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

            foreach (var date in rule.Between(LocalDate.Max(from, series.Cadences[i].From), to))
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
                return null;
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

    /// <summary>The dates of the slots from <paramref name="from"/> on, in order, as far as <paramref name="until"/>, excluded.</summary>
    public static IEnumerable<LocalDate> DatesFrom(Series series, LocalDate from, LocalDate until) =>
        Between(series, from, until).Select(slot => slot.Date);

    /// <summary>The tolerance that holds: the series' own, or 24 h where the late window leaves room for that.</summary>
    public static Duration ToleranceOf(Series series) =>
        series.Settings.OnTimeTolerance ?? Duration.Min(Day, series.Settings.LateWindow ?? ShortestLateWindow(series.Cadence));

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

        if (!Reigns(series, reignIndex, date, original))
        {
            return null;
        }

        var standing = SlotStanding.After(changes, original, zone);
        var excuse = standing.GivenUp ?? BreakOver(series, standing.PromisedAt, zone);
        var touching = series.Breaks.Where(b => b.Covers(date)).ToArray();

        return new Slot(
            date,
            standing.At,
            standing.PromisedAt,
            reign.Terms.Zone,
            excuse,
            series.Settings.EarlyWindow ?? DefaultEarlyWindow(rule, reign.Terms, zone, date, original),
            series.Settings.LateWindow ?? DefaultLateWindow(rule, reign.Terms, zone, date, original),
            Revision: reignIndex + standing.Count + touching.Sum(b => b.CancelledAt is null ? 1 : 2),
            ChangedAt: touching
                .Select(b => b.CancelledAt ?? b.RecordedAt)
                .Append(Instant.Max(reign.RecordedAt, standing.ChangedAt))
                .Max());
    }

    /// <summary>Whether the slot belongs to that rule: not from before it came, nor after another or the end took over.</summary>
    private static bool Reigns(Series series, int index, LocalDate date, Instant original)
    {
        var reign = series.Cadences[index];
        var next = index + 1 < series.Cadences.Count ? series.Cadences[index + 1] : null;

        // The first rule may be back-dated: a history is imported under it. A later one promises nothing for the past.
        var came = date >= reign.From && (index == 0 || original > reign.RecordedAt);
        var went = (next is not null && date >= next.From && original > next.RecordedAt)
            || (series.ClosedAt is { } closed && original > closed);

        return came && !went;
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
