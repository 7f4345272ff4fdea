using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// How long each instance of a component lasts (RFC 5545 section 3.8.5.3): an end, DTEND or DUE, makes every instance
/// last the same time; a DURATION is counted anew from each start.
/// </summary>
internal sealed class InstanceLength
{
    private static readonly NodaTime.Duration ClockChanges = NodaTime.Duration.FromDays(2);

    private readonly CalendarTime _anchor;
    private readonly NodaTime.Duration _exact;
    private readonly Ical.Net.DataTypes.Duration? _nominal;
    private readonly bool _isOpen;

    private InstanceLength(
        CalendarTime anchor, NodaTime.Duration exact, Ical.Net.DataTypes.Duration? nominal, bool isOpen) =>
        (_anchor, _exact, _nominal, _isOpen) = (anchor, exact, nominal, isOpen);

    /// <summary>No instance lasts longer, whichever way the clocks are changed meanwhile.</summary>
    public NodaTime.Duration AtMost
    {
        get
        {
            var (start, end) = (_anchor.Instant, EndOf(_anchor) ?? _anchor.Instant);
            return (end < start ? start - end : end - start) + ClockChanges;
        }
    }

    public static InstanceLength Of(RecurringComponent component, CalendarTime anchor, DateTimeZone floating)
    {
        var (end, duration) = component switch
        {
            CalendarEvent one => (one.DtEnd, one.Duration),
            Todo { DtStart: not null } todo => (todo.Due, todo.Duration),
            _ => ((CalDateTime?)null, (Ical.Net.DataTypes.Duration?)null),
        };

        if (end is null)
        {
            return new(anchor, NodaTime.Duration.Zero, duration, duration is null);
        }

        var last = CalendarTime.Of(end, floating);
        return anchor.IsDate && last.IsDate
            ? new(anchor, default, Ical.Net.DataTypes.Duration.FromDays(
                NodaTime.Period.DaysBetween(anchor.Local.Date, last.Local.Date)), false)
            : new(anchor, last.Instant - anchor.Instant, null, false);
    }

    /// <summary>The end of an instance; null when the component says nothing about it.</summary>
    public Instant? EndOf(CalendarTime start) => _isOpen ? null
        : _nominal is { } nominal ? start.Plus(nominal)
        : CalendarTime.Move(start.Instant, _exact);
}
