namespace Releasekit.Server.Calendar;

/// <summary>
/// When something starts, ends or is due: a <see cref="CalendarMoment"/> or a <see cref="CalendarDay"/>.
/// </summary>
internal abstract record CalendarTime
{
    /// <summary>False too when one is a moment and the other a day: RFC 5545 wants the same kind of both.</summary>
    public bool IsAfter(CalendarTime other) => (this, other) switch
    {
        // What is written has whole seconds, so that is what must differ.
        (CalendarMoment later, CalendarMoment earlier) => later.At.ToUnixTimeSeconds() > earlier.At.ToUnixTimeSeconds(),
        (CalendarDay later, CalendarDay earlier) => later.On > earlier.On,
        _ => false,
    };
}

/// <summary>
/// An instant, shown on the wall clock of <paramref name="Zone"/>; without one, or where it is UTC itself, in UTC.
/// </summary>
/// <param name="Zone">From the tz database: its id is the TZID.</param>
internal sealed record CalendarMoment(Instant At, DateTimeZone? Zone = null) : CalendarTime
{
    /// <summary>
    /// Null where the moment must be written in UTC. That is also so in the second pass of an hour that the clocks
    /// repeat: a wall time with TZID names the first (RFC 5545, 3.3.5).
    /// </summary>
    public LocalDateTime? Wall
    {
        get
        {
            if (Zone is null || (Zone.MinOffset == Offset.Zero && Zone.MaxOffset == Offset.Zero))
            {
                return null;
            }

            var wall = At.InZone(Zone).LocalDateTime;
            return Zone.MapLocal(wall).First().ToInstant() == At ? wall : null;
        }
    }
}

/// <summary>A whole day wherever one is. As an end it is exclusive: the first day after.</summary>
internal sealed record CalendarDay(LocalDate On) : CalendarTime;
