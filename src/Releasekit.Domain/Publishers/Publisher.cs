using Releasekit.Domain.Reminders;

namespace Releasekit.Domain.Publishers;

/// <summary>The tenant: one person or a small team, with a zone, a working week and days off.</summary>
/// <param name="Id">A slug; chosen when the publisher is opened, never changed.</param>
/// <param name="Zone">IANA zone id in which the publisher lives and works.</param>
/// <param name="WorkingWeek">By day and hour, not overlapping; may be empty.</param>
/// <param name="DaysOff">Local dates without work, in order, each once.</param>
public sealed record Publisher(
    string Id,
    string Name,
    string Zone,
    IReadOnlyList<WorkingHours> WorkingWeek,
    IReadOnlyList<LocalDate> DaysOff,
    Instant OpenedAt)
{
    /// <summary>When its settings were last changed, UTC.</summary>
    public Instant ChangedAt { get; init; } = OpenedAt;

    /// <summary>How many projects are started in a calendar year at most, 0 to 100.</summary>
    public int ProjectsAYear { get; init; } = UsualProjectsAYear;

    /// <summary>When it wants to be reminded.</summary>
    public ReminderSettings Reminders { get; init; } = ReminderSettings.Usual;

    /// <summary>
    /// One in two months, as a project takes a month or more: what holds until the publisher says otherwise. Common
    /// practice, no source.
    /// </summary>
    public const int UsualProjectsAYear = 6;

    /// <summary>
    /// Monday to Friday, nine to five: what holds until the publisher says otherwise. Common practice, no source.
    /// </summary>
    public static readonly IReadOnlyList<WorkingHours> UsualWeek =
    [
        .. Enumerable.Range(1, 5).Select(day => new WorkingHours((IsoDayOfWeek)day, new(9, 0), new(17, 0))),
    ];

    /// <summary>Whether a local date has working hours and is no day off.</summary>
    public bool IsWorkday(LocalDate date) =>
        WorkingWeek.Any(hours => hours.Day == date.DayOfWeek) && !DaysOff.Contains(date);

    /// <summary>The local date in the publisher's zone.</summary>
    public LocalDate DateAt(Instant at) => at.InZone(Schedule.LocalTimes.FindZone(Zone)!).Date;

    /// <summary>
    /// When a local date begins in the publisher's zone, UTC; not at midnight where the clock skips it.
    /// </summary>
    public Instant StartOf(LocalDate date) =>
        date.AtStartOfDayInZone(Schedule.LocalTimes.FindZone(Zone)!).ToInstant();
}

/// <summary>A stretch of working time that comes every week, local time; the end is excluded.</summary>
public sealed record WorkingHours(IsoDayOfWeek Day, LocalTime From, LocalTime To);
