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

    /// <summary>
    /// Monday to Friday, nine to five: what holds until the publisher says otherwise. Common practice, no source.
    /// </summary>
    public static readonly IReadOnlyList<WorkingHours> UsualWeek =
    [
        .. Enumerable.Range(1, 5).Select(day => new WorkingHours((IsoDayOfWeek)day, new(9, 0), new(17, 0))),
    ];
}

/// <summary>A stretch of working time that comes every week, local time; the end is excluded.</summary>
public sealed record WorkingHours(IsoDayOfWeek Day, LocalTime From, LocalTime To);
