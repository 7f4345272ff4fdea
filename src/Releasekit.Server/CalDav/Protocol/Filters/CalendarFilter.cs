using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// The filter of a calendar-query (RFC 4791 section 9.7). A calendar is judged as it was read from its text. Where a
/// recurrence is too long to look through, the answer is yes.
/// </summary>
internal sealed class CalendarFilter
{
    private readonly ComponentFilter _root;

    private CalendarFilter(ComponentFilter root) => _root = root;

    /// <summary>Reads <c>CALDAV:filter</c>; null and a fault when it is none that can be answered.</summary>
    public static CalendarFilter? TryRead(XElement filter, out FilterFault? fault)
    {
        var root = FilterReader.Read(filter, out fault);
        return root is null ? null : new CalendarFilter(root);
    }

    /// <param name="floating">The zone in which dates and floating times are read: that of the query's
    /// <c>CALDAV:timezone</c>, else that of the collection.</param>
    public bool Matches(Ical.Net.Calendar calendar, DateTimeZone floating) =>
        _root.Matches([new CalendarScope(calendar, null, floating)]);

    /// <summary>The outermost VEVENT or VTODO that is asked for, with its range.</summary>
    public TimeRangeHint Hint()
    {
        var asked = _root.Components.Where(
            one => one is { IsNotDefined: false, Name: FilterNames.Event or FilterNames.Todo }).ToList();
        return (asked.Find(one => one.Range is not null) ?? asked.FirstOrDefault()) is { } outermost
            ? new(outermost.Name, SideOf(outermost.Range?.Start), SideOf(outermost.Range?.End))
            : new(null, null, null);
    }

    private static Instant? SideOf(Instant? side) =>
        side == Instant.MinValue || side == Instant.MaxValue ? null : side;
}
