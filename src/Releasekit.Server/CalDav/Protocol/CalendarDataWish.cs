using System.Xml.Linq;
using NodaTime.Text;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>What of the calendar data of an item is asked for (RFC 4791 s.9.6).</summary>
/// <param name="Component">The parts of VCALENDAR; null for all of it.</param>
/// <param name="Expand">Every occurrence in this time on its own, in UTC, instead of the rule.</param>
/// <param name="LimitRecurrenceSet">The rule, and of the exceptions those in this time only, UTC.</param>
internal sealed record CalendarDataWish(ComponentWish? Component, Interval? Expand, Interval? LimitRecurrenceSet)
{
    private static readonly InstantPattern Utc = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");

    /// <param name="wish">The element <c>CALDAV:calendar-data</c> in a request.</param>
    public static CalendarDataWish? TryRead(XElement wish, out DavFault? fault)
    {
        var component = wish.Element(DavNames.CalComp) is { } selection ? ComponentWish.TryRead(selection) : null;
        var expand = IntervalOf(wish.Element(DavNames.CalExpand));
        var limit = IntervalOf(wish.Element(DavNames.CalLimitRecurrenceSet));

        fault = !IsServed(wish) ? DavFault.Forbidden(DavConditions.SupportedData)
            : component?.Name is not "VCALENDAR" && wish.Element(DavNames.CalComp) is not null
                || expand is null && wish.Element(DavNames.CalExpand) is not null
                || limit is null && wish.Element(DavNames.CalLimitRecurrenceSet) is not null
                || expand is not null && limit is not null
                ? DavFault.Malformed
            : null;

        return fault is null ? new(component, expand, limit) : null;
    }

    private static bool IsServed(XElement wish) =>
        string.Equals(
            ((string?)wish.Attribute("content-type") ?? "text/calendar").Split(';')[0].Trim(), "text/calendar",
            StringComparison.OrdinalIgnoreCase)
        && ((string?)wish.Attribute("version") ?? "2.0") is "2.0";

    /// <summary>From start, inclusive, to end, exclusive and later.</summary>
    private static Interval? IntervalOf(XElement? element) =>
        Utc.Parse((string?)element?.Attribute("start") ?? "") is { Success: true, Value: var start }
        && Utc.Parse((string?)element?.Attribute("end") ?? "") is { Success: true, Value: var end }
        && start < end
            ? new(start, end)
            : null;
}
