using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// What a VEVENT or VTODO says. Times are a <see cref="CalendarDay"/>, a <see cref="CalendarMoment"/> (by the VTIMEZONE
/// of the body, with a zone only where the tz database gave it) or a <see cref="FloatingTime"/>. Texts are unescaped,
/// words of the standard in upper case; null is what the component does not say.
/// </summary>
internal sealed record CalendarItem
{
    /// <summary>Which of the occurrences it stands for; null for the component that they come from.</summary>
    public CalendarTime? RecurrenceId { get; init; }

    public string? Summary { get; init; }

    public string? Description { get; init; }

    public string? Location { get; init; }

    public CalendarTime? Start { get; init; }

    /// <summary>DTEND, exclusive.</summary>
    public CalendarTime? End { get; init; }

    /// <summary>DURATION; weeks and days are those of the calendar.</summary>
    public Period? Duration { get; init; }

    public CalendarTime? Due { get; init; }

    /// <summary>
    /// When it is over: DTEND or DUE, else the start and the duration; for an event with neither the next day, or the
    /// moment it starts (RFC 5545, 3.6.1). Null when the component tells no end.
    /// </summary>
    public CalendarTime? Finish { get; init; }

    public string? Status { get; init; }

    /// <summary>When a to-do was done, in whatever form the client wrote that.</summary>
    public CalendarTime? Completed { get; init; }

    /// <summary>0 to 100; null too for anything else.</summary>
    public int? PercentComplete { get; init; }

    /// <summary>0 (none) or 1 (highest) to 9; null too for anything else.</summary>
    public int? Priority { get; init; }

    public string? Class { get; init; }

    public string? Transp { get; init; }

    public IReadOnlyList<string> Categories { get; init; } = [];

    /// <summary>The rule as it was written: in bounds, and with an occurrence in the years served.</summary>
    public string? Rrule { get; init; }

    public IReadOnlyList<CalendarTime> Exdates { get; init; } = [];

    /// <summary>Of periods their starts.</summary>
    public IReadOnlyList<CalendarTime> Rdates { get; init; } = [];

    /// <summary>From 0; 0 too when there is none or it is no number.</summary>
    public int Sequence { get; init; }
}
