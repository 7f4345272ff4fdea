namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>One instance of a component, with what the component's properties come to for it.</summary>
/// <param name="Start">DTSTART; null for a to-do that has none.</param>
/// <param name="End">DTEND or DUE, given or reckoned from the duration; null when there is neither.</param>
internal readonly record struct Instance(CalendarTime? Start, Instant? End)
{
    /// <summary>
    /// The end that an event or journal entry without one is given (RFC 4791 section 9.9): a day lasts a day, a time
    /// no time at all.
    /// </summary>
    public Instant? EffectiveEnd => End ?? (Start is { IsDate: true } day
        ? day.Plus(Ical.Net.DataTypes.Duration.FromDays(1))
        : Start?.Instant);
}
