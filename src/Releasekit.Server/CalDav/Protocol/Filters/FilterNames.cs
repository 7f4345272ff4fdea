using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>The names that a filter is written in (RFC 4791 sections 9.7 and 9.9; RFC 5545 for the calendar).</summary>
internal static class FilterNames
{
    public static readonly XNamespace CalDav = "urn:ietf:params:xml:ns:caldav";
    public static readonly XName Filter = CalDav + "filter";
    public static readonly XName CompFilter = CalDav + "comp-filter";
    public static readonly XName PropFilter = CalDav + "prop-filter";
    public static readonly XName ParamFilter = CalDav + "param-filter";
    public static readonly XName IsNotDefined = CalDav + "is-not-defined";
    public static readonly XName TextMatch = CalDav + "text-match";
    public static readonly XName TimeRange = CalDav + "time-range";

    public const string Calendar = "VCALENDAR";
    public const string Event = "VEVENT";
    public const string Todo = "VTODO";
    public const string Journal = "VJOURNAL";
    public const string FreeBusy = "VFREEBUSY";
    public const string Zone = "VTIMEZONE";
    public const string Alarm = "VALARM";

    /// <summary>The components for which section 9.9 says what a time range means.</summary>
    public static bool HasRange(string component) => component is Event or Todo or Journal or FreeBusy or Alarm;

    /// <summary>The properties for which section 9.9 says what a time range means.</summary>
    public static bool IsDated(string property) =>
        property is "COMPLETED" or "CREATED" or "DTEND" or "DTSTAMP" or "DTSTART" or "DUE" or "LAST-MODIFIED";

    /// <summary>Whether iCalendar lets the one hold the other; unknown components may stand anywhere below.</summary>
    public static bool MayHold(string? parent, string child) => child switch
    {
        Calendar => parent is null,
        _ when parent is null => false,
        Event or Todo or Journal or FreeBusy or Zone => parent is Calendar,
        Alarm => parent is not (Calendar or Journal or FreeBusy or Zone or Alarm),
        "STANDARD" or "DAYLIGHT" => parent is Zone,
        _ => true,
    };
}
