namespace Releasekit.Domain.Planning;

/// <summary>
/// All open work laid into the working hours that are left, on the work clock: every moment goes to the work with
/// the earliest modified due, <c>d' = min(d, least d' - effort of what follows)</c>, among what can be begun (Lawler
/// 1973). No other way of working has a smaller maximum lateness. It assumes that work may be laid aside over breaks
/// and for what is more urgent, that started work still takes its whole effort, and that work without a guess takes
/// no time.
/// </summary>
/// <param name="Work">By predicted start.</param>
/// <param name="Outlooks">
/// One for each release with open making and for each task, where something is due; by due.
/// </param>
/// <param name="Shortfall">The largest number of working hours too few for anything; zero when all fits.</param>
/// <param name="FirstOverflowOn">
/// The local date by whose end the work due by then no longer fits: the earliest due that is missed, today at the
/// earliest (a due at midnight belongs to the day that ends); null when all fits.
/// </param>
/// <param name="Remedies">
/// Owners of the releases of which any single one, if it were dropped, made all the rest fit, by due; empty when all
/// fits or no single one suffices. Shown, never decided.
/// </param>
public sealed record CapacityPlan(
    IReadOnlyList<LaidWork> Work,
    IReadOnlyList<DueOutlook> Outlooks,
    Duration Shortfall,
    LocalDate? FirstOverflowOn,
    IReadOnlyList<string> Remedies)
{
    /// <summary>Whether everything is finished by its due.</summary>
    public bool Fits => Shortfall == Duration.Zero;

    /// <summary>
    /// The plan; null when the work of an owner follows itself in a circle or stands twice, and then why, as
    /// <see cref="CriticalPath"/> says it.
    /// </summary>
    /// <param name="now">UTC.</param>
    public static CapacityPlan? TryLay(
        IReadOnlyList<OpenWork> work,
        WorkingCalendar calendar,
        Instant now,
        CapacityQuestion question,
        out string? fault) =>
        CapacityLayout.TryPrepare(work, calendar, now, question, out fault)?.Plan();
}

/// <summary>"What if" about capacity; the default asks about things as they are.</summary>
/// <param name="Without">Owner whose work is left out; null: nothing is.</param>
/// <param name="HoursAWeek">
/// Working hours of a week instead of the calendar's, spread like them: every working hour counts as this many hours
/// divided by <see cref="WorkingCalendar.WeeklyHours"/>, so days off and appointments cost their share. An empty week
/// stays empty. Null: as they are. From zero.
/// </param>
public sealed record CapacityQuestion(string? Without = null, Duration? HoursAWeek = null);

/// <summary>Open work with its place in the hours that are left. Instants UTC.</summary>
/// <param name="StartsAt">Null when there is not enough working time for years.</param>
/// <param name="FinishesAt">
/// When its last sitting ends; for work without effort when all before it is done. Null as before.
/// </param>
/// <param name="Shortfall">Working hours too few before its due; zero when it is met or nothing is due.</param>
/// <param name="Sittings">
/// The stretches of working time it takes, in order, ends excluded; empty without effort. With
/// <see cref="CapacityQuestion.HoursAWeek"/> they are the calendar's own hours, which then count more or less.
/// </param>
public sealed record LaidWork(
    OpenWork Work, Instant? StartsAt, Instant? FinishesAt, Duration Shortfall, IReadOnlyList<Interval> Sittings);

/// <summary>Whether a release makes its slot, or a task its due.</summary>
/// <param name="Owner">The id of the release or task.</param>
/// <param name="DueAt">The slot, or the due of the task, UTC.</param>
/// <param name="ReadyAt">
/// When the last of it is finished, UTC; null when there is not enough working time for years.
/// </param>
/// <param name="Shortfall">Working hours too few; zero when it is met.</param>
/// <param name="EffortUnknown">Whether something in it has no effort: then it is told too hopefully.</param>
public sealed record DueOutlook(string Owner, Instant DueAt, Instant? ReadyAt, Duration Shortfall, bool EffortUnknown)
{
    /// <summary>Whether it is finished by its due.</summary>
    public bool IsMet => Shortfall == Duration.Zero;
}
