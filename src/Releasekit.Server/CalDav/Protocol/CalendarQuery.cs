using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The report calendar-query: the items that match (RFC 4791 s.7.8 and 9.5).</summary>
/// <param name="Filter">The element <c>CALDAV:filter</c>, still to be read.</param>
/// <param name="Timezone">The iCalendar text with the VTIMEZONE that floating times are in, still to be read; null if
/// the collection's own zone counts.</param>
internal sealed record CalendarQuery(PropWish Wish, XElement Filter, string? Timezone)
{
    public static CalendarQuery? TryRead(XElement? body, out DavFault? fault)
    {
        fault = null;
        var wish = body?.Name == DavNames.CalQuery ? PropWish.TryRead(body, out fault) ?? PropWish.Nothing : null;
        XElement[] filters = [.. body?.Elements(DavNames.CalFilter) ?? []];

        if (wish is null || fault is not null || filters is not [var filter])
        {
            fault ??= DavFault.Malformed;
            return null;
        }

        return new(wish, filter, body!.Element(DavNames.CalTimezone)?.Value);
    }
}
