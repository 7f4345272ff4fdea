namespace Releasekit.Domain.Schedule;

/// <summary>
/// What may happen to a series: opening, settings, cadence, breaks, its end. Single slots: <see cref="SlotDecider"/>.
/// </summary>
public static class SeriesDecider
{
    private const int LongestBreakDays = 1_100;

    /// <summary>
    /// Opens a series. Its first rule may start in the past, so that a history can be told.
    /// Refuses: <c>series.invalid</c>, and all that <see cref="CadenceChecks"/> refuses.
    /// </summary>
    public static Decision<SeriesEvent> Open(
        Guid id, string slug, string title, string stagePlan, CadenceTerms terms, SeriesSettings settings, Instant now)
    {
        if (Wording.FaultOfKey(slug, "The id of a series") is { } slugFault)
        {
            return Refusal.NotAcceptable("series.invalid", slugFault, "/id");
        }

        if (Wording.FaultOfLine(title, "A title") is { } titleFault)
        {
            return Refusal.NotAcceptable("title.invalid", titleFault, "/title");
        }

        return (CadenceChecks.Check(terms, "/cadence") ?? CadenceChecks.Check(settings, terms)) is { } refusal
            ? refusal
            : [new SeriesOpened(id, slug, title, stagePlan, settings, now), new CadenceSet(terms, terms.Start, now)];
    }

    /// <summary>
    /// Changes title, stage plan or settings. Refuses: <c>title.invalid</c>, and what settings can be refused for.
    /// </summary>
    public static Decision<SeriesEvent> Amend(
        Series series, string title, string stagePlan, SeriesSettings settings, Instant now)
    {
        if (Wording.FaultOfLine(title, "A title") is { } fault)
        {
            return Refusal.NotAcceptable("title.invalid", fault, "/title");
        }

        if (CadenceChecks.Check(settings, series.Cadence) is { } refusal)
        {
            return refusal;
        }

        return title == series.Title && stagePlan == series.StagePlan && settings == series.Settings
            ? []
            : [new SeriesAmended(title, stagePlan, settings, now)];
    }

    /// <summary>
    /// Sets another rule from a local date on; what was promised before that date stays.
    /// Refuses: <c>series.closed</c>, <c>cadence.from_past</c>, and all that <see cref="CadenceChecks"/> refuses.
    /// </summary>
    public static Decision<SeriesEvent> SetCadence(Series series, CadenceTerms terms, LocalDate from, Instant now)
    {
        if (series.ClosedAt is not null)
        {
            return SeriesRefusals.Closed(series);
        }

        if ((CadenceChecks.Check(terms, string.Empty) ?? CadenceChecks.Check(series.Settings, terms)) is { } refusal)
        {
            return refusal;
        }

        var today = now.InZone(LocalTimes.FindZone(terms.Zone)!).Date;

        if (from < today)
        {
            return Refusal.NotAcceptable(
                "cadence.from_past",
                $"A cadence changes from today ({today:uuuu-MM-dd}) on at the earliest; {from:uuuu-MM-dd} is past, "
                + "and what was promised then stays.",
                "/from");
        }

        return series.Cadences[^1] is { } last && last.Terms == terms && last.From <= from
            ? []
            : [new CadenceSet(terms, from, now)];
    }

    /// <summary>Plans a pause, both ends included. Refuses: <c>series.closed</c>, <c>break.invalid</c>.</summary>
    public static Decision<SeriesEvent> PlanBreak(
        Series series, Guid id, LocalDate from, LocalDate to, string? reason, Instant now)
    {
        if (series.ClosedAt is not null)
        {
            return SeriesRefusals.Closed(series);
        }

        if (to < from)
        {
            return Refusal.NotAcceptable(
                "break.invalid",
                $"The break ends ({to:uuuu-MM-dd}) before it begins ({from:uuuu-MM-dd}); 'to' is its last day.",
                "/to");
        }

        if (Period.DaysBetween(from, to) > LongestBreakDays)
        {
            return Refusal.NotAcceptable(
                "break.invalid", "A break lasts three years at most; close the series if it is over.", "/to");
        }

        return Wording.FaultOfText(reason, "A reason") is { } fault
            ? Refusal.NotAcceptable("break.invalid", fault, "/reason")
            : [new BreakPlanned(id, from, to, reason, now)];
    }

    /// <summary>Calls a known pause off; a second time changes nothing.</summary>
    public static Decision<SeriesEvent> CancelBreak(Series series, Guid id, Instant now) =>
        series.Breaks.Any(b => b.Id == id && b.CancelledAt is null) ? [new BreakCancelled(id, now)] : [];

    /// <summary>Ends the series: no slot after now. A second time changes nothing.</summary>
    public static Decision<SeriesEvent> Close(Series series, Instant now) =>
        series.ClosedAt is null ? [new SeriesClosed(now)] : [];
}

/// <summary>Refusals that several commands share.</summary>
internal static class SeriesRefusals
{
    public static Refusal Closed(Series series) => new(
        "series.closed", $"'{series.Title}' was closed at {series.ClosedAt}; nothing can be promised for it any more.");
}
