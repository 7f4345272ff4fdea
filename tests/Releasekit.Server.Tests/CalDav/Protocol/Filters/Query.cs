using System.Xml.Linq;
using Releasekit.Server.CalDav.Protocol.Filters;

namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>Filters and calendars from their text, and the one asked of the other.</summary>
internal static class Query
{
    public static readonly DateTimeZone Brussels = DateTimeZoneProviders.Tzdb["Europe/Brussels"];

    /// <param name="query">A whole calendar-query, or its filter with the prefix C.</param>
    public static CalendarFilter? TryRead(string query, out FilterFault? fault)
    {
        var root = XElement.Parse(query.Contains("xmlns", StringComparison.Ordinal)
            ? query
            : $"""<C:q xmlns:D="DAV:" xmlns:C="urn:ietf:params:xml:ns:caldav">{query}</C:q>""");
        return CalendarFilter.TryRead(root.Element(FilterNames.Filter)!, out fault);
    }

    public static CalendarFilter Read(string query)
    {
        var filter = TryRead(query, out var fault);
        Assert.Null(fault);
        return filter!;
    }

    /// <param name="inner">What stands in <c>comp-filter name="VCALENDAR"</c>.</param>
    public static CalendarFilter Of(string inner) =>
        Read($"""<C:filter><C:comp-filter name="VCALENDAR">{inner}</C:comp-filter></C:filter>""");

    /// <param name="start">As it stands in the attribute; null when open.</param>
    public static CalendarFilter InRange(string component, string? start, string? end) =>
        Of($"""<C:comp-filter name="{component}">{Range(start, end)}</C:comp-filter>""");

    public static string Range(string? start, string? end) =>
        $"<C:time-range {(start is null ? "" : $"start='{start}'")} {(end is null ? "" : $"end='{end}'")}/>";

    /// <param name="components">Lines of iCalendar, without the calendar around them.</param>
    public static bool Matches(this CalendarFilter filter, string components, DateTimeZone? floating = null) =>
        filter.Matches(Calendar(components), floating ?? DateTimeZone.Utc);

    public static Ical.Net.Calendar Calendar(string components) => Ical.Net.Calendar.Load(
        $"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//Releasekit//Tests//EN\n{components}\nEND:VCALENDAR")!;

    /// <param name="properties">Lines of iCalendar, parted by vertical lines.</param>
    public static string Component(string name, string properties) =>
        $"BEGIN:{name}|UID:r1|DTSTAMP:20260101T000000Z|{properties}|END:{name}"
            .Replace("|", "\n", StringComparison.Ordinal);
}
