namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>
/// The collection that the examples of RFC 4791 query: its Appendix B, names and values as they stand there. Lines
/// that no query asks for are left out, and so are the VTIMEZONEs: the calendar library goes by the name of the zone.
/// </summary>
internal static class StandardCollection
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["US/Eastern"];

    private static readonly Dictionary<string, string> Items = new()
    {
        ["abcd1"] = Query.Component("VEVENT",
            "DTSTART;TZID=US/Eastern:20060102T100000|DURATION:PT1H|SUMMARY:Event #1|Description:Go Steelers!")
            .Replace("UID:r1", "UID:74855313FA803DA593CD579A@example.com", StringComparison.Ordinal),
        ["abcd2"] = (Query.Component("VEVENT",
            "DTSTART;TZID=US/Eastern:20060102T120000|DURATION:PT1H|RRULE:FREQ=DAILY;COUNT=5|SUMMARY:Event #2")
            + "\n" + Query.Component("VEVENT",
            "DTSTART;TZID=US/Eastern:20060104T140000|DURATION:PT1H|RECURRENCE-ID;TZID=US/Eastern:20060104T120000|"
            + "SUMMARY:Event #2 bis"))
            .Replace("UID:r1", "UID:00959BC664CA650E933C892C@example.com", StringComparison.Ordinal),
        ["abcd3"] = Query.Component("VEVENT",
            "ATTENDEE;PARTSTAT=ACCEPTED;ROLE=CHAIR:mailto:cyrus@example.com|"
            + "ATTENDEE;PARTSTAT=NEEDS-ACTION:mailto:lisa@example.com|DTSTART;TZID=US/Eastern:20060104T100000|"
            + "DURATION:PT1H|LAST-MODIFIED:20060206T001330Z|ORGANIZER:mailto:cyrus@example.com|SEQUENCE:1|"
            + "STATUS:TENTATIVE|SUMMARY:Event #3")
            .Replace("UID:r1", "UID:DC6C50A017428C5216A2F1CD@example.com", StringComparison.Ordinal),
        ["abcd4"] = Todo("DUE;VALUE=DATE:20060104|STATUS:NEEDS-ACTION|SUMMARY:Task #1", hasAlarm: true),
        ["abcd5"] = Todo("DUE;VALUE=DATE:20060106|STATUS:NEEDS-ACTION|SUMMARY:Task #2", hasAlarm: true),
        ["abcd6"] = Todo(
            "COMPLETED:20051223T122322Z|DUE;VALUE=DATE:20051225|STATUS:COMPLETED|SUMMARY:Task #3", hasAlarm: false),
        ["abcd7"] = Todo("DUE;VALUE=DATE:20060101|STATUS:CANCELLED|SUMMARY:Task #4", hasAlarm: false),
        ["abcd8"] = Query.Component("VFREEBUSY",
            "ORGANIZER;CN=\"Bernard Desruisseaux\":mailto:bernard@example.com|DTSTART:20060101T000000Z|"
            + "DTEND:20060108T000000Z|FREEBUSY;FBTYPE=BUSY-TENTATIVE:20060102T100000Z/20060102T120000Z"),
    };

    /// <summary>The items that a query finds, in order.</summary>
    public static IEnumerable<string> FoundBy(string query)
    {
        var filter = Query.Read(query);
        return Items.Where(item => filter.Matches(item.Value, Zone)).Select(item => item.Key).Order();
    }

    public static string Todo(string properties, bool hasAlarm) => Query.Component(
        "VTODO", properties + (hasAlarm ? "|BEGIN:VALARM|ACTION:AUDIO|TRIGGER;RELATED=START:-PT10M|END:VALARM" : ""));
}
