namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>
/// The queries that clients send. Element order, prefixes and ranges of the Android sync adapter (the calendar query of
/// its published DAV library) and of the command-line synchroniser (its published template) are from their sources;
/// those of the desktop suite, the closed clients and the scripting library follow what is known of them, their
/// prefixes are from memory. Some line breaks between elements are ours. Each meets an issue that goes out weekly and
/// a task of it.
/// </summary>
public class ClientQueriesTests
{
    private static readonly string Issue = Query.Component("VEVENT",
        "DTSTART;TZID=Europe/Brussels:20260305T090000|DURATION:PT1H|RRULE:FREQ=WEEKLY;COUNT=4|SUMMARY:Issue");

    private static readonly string Proofs = Query.Component(
        "VTODO", "DUE:20260304T160000Z|STATUS:NEEDS-ACTION|SUMMARY:Proofs");

    [Fact]
    public void The_Android_adapter_asks_for_events_from_some_day_on()
    {
        const string From = """
            <?xml version='1.0' encoding='UTF-8' ?>
            <CAL:calendar-query xmlns="DAV:" xmlns:CAL="urn:ietf:params:xml:ns:caldav"><prop><getetag /></prop>
            <CAL:filter><CAL:comp-filter name="VCALENDAR"><CAL:comp-filter name="VEVENT">
            <CAL:time-range start="20260326T080000Z" /></CAL:comp-filter></CAL:comp-filter></CAL:filter>
            </CAL:calendar-query>
            """;
        var filter = Query.Read(From);

        Assert.True(filter.Matches(Issue));
        Assert.False(Query.Read(From.Replace("26T080000Z", "26T090000Z", StringComparison.Ordinal)).Matches(Issue));
        Assert.False(filter.Matches(Proofs));
        Assert.Equal(new("VEVENT", Instant.FromUtc(2026, 3, 26, 8, 0), null), filter.Hint());
    }

    [Fact]
    public void The_Android_adapter_asks_for_all_tasks()
    {
        var filter = Query.Read("""
            <?xml version='1.0' encoding='UTF-8' ?>
            <CAL:calendar-query xmlns="DAV:" xmlns:CAL="urn:ietf:params:xml:ns:caldav"><prop><getetag /></prop>
            <CAL:filter><CAL:comp-filter name="VCALENDAR"><CAL:comp-filter name="VTODO" /></CAL:comp-filter>
            </CAL:filter></CAL:calendar-query>
            """);

        Assert.True(filter.Matches(Proofs));
        Assert.False(filter.Matches(Issue));
        Assert.Equal(new("VTODO", null, null), filter.Hint());
    }

    [Theory]
    [InlineData("20260129T000000Z", "20260409T000000Z", true)]
    [InlineData("20260305T000000Z", "20260514T000000Z", false)]
    public void The_desktop_suite_asks_for_the_weeks_around_now_of_tasks_too(string start, string end, bool found) =>
        Assert.Equal(found, Query.Read($"""
            <?xml version="1.0" encoding="UTF-8"?>
            <calendar-query xmlns="urn:ietf:params:xml:ns:caldav" xmlns:D="DAV:"><D:prop><D:getetag/></D:prop>
            <filter><comp-filter name="VCALENDAR"><comp-filter name="VTODO">
            <time-range start="{start}" end="{end}"/></comp-filter></comp-filter></filter></calendar-query>
            """).Matches(Proofs));

    [Fact]
    public void The_desktop_suite_lists_what_is_there_and_wants_only_the_UID()
    {
        var filter = Query.Read("""
            <?xml version="1.0" encoding="UTF-8"?>
            <calendar-query xmlns="urn:ietf:params:xml:ns:caldav" xmlns:D="DAV:"><D:prop><D:getetag/><calendar-data>
            <comp name="VCALENDAR"><prop name="VERSION"/><comp name="VEVENT"><prop name="UID"/></comp></comp>
            </calendar-data></D:prop><filter><comp-filter name="VCALENDAR"><comp-filter name="VEVENT"/>
            </comp-filter></filter></calendar-query>
            """);

        Assert.True(filter.Matches(Issue));
        Assert.False(filter.Matches(Proofs));
    }

    [Theory]
    [InlineData("20260327T000000Z", false)]
    [InlineData("20260220T000000Z", true)]
    public void Phones_and_desktops_ask_with_an_open_end(string start, bool found) =>
        Assert.Equal(found, Query.Read($"""
            <?xml version="1.0" encoding="UTF-8"?>
            <B:calendar-query xmlns:B="urn:ietf:params:xml:ns:caldav">
              <A:prop xmlns:A="DAV:">
                <A:getetag/>
                <A:getcontenttype/>
              </A:prop>
              <B:filter>
                <B:comp-filter name="VCALENDAR">
                  <B:comp-filter name="VEVENT">
                    <B:time-range start="{start}"/>
                  </B:comp-filter>
                </B:comp-filter>
              </B:filter>
            </B:calendar-query>
            """).Matches(Issue));

    [Theory]
    [InlineData("VEVENT", true, false)]
    [InlineData("VTODO", false, true)]
    [InlineData("VJOURNAL", false, false)]
    public void The_synchroniser_asks_once_for_each_kind(string component, bool findsIssue, bool findsTask)
    {
        var filter = Query.Read($"""
            <?xml version="1.0" encoding="utf-8" ?>
                        <C:calendar-query xmlns:D="DAV:"
                            xmlns:C="urn:ietf:params:xml:ns:caldav">
                            <D:prop>
                                <D:getcontenttype/>
                                <D:getetag/>
                            </D:prop>
                            <C:filter>

                            <C:comp-filter name="VCALENDAR">
                                <C:comp-filter name="{component}">

                                </C:comp-filter>
                            </C:comp-filter>

                            </C:filter>
                        </C:calendar-query>
            """);

        Assert.Equal(findsIssue, filter.Matches(Issue));
        Assert.Equal(findsTask, filter.Matches(Proofs));
    }

    [Theory]
    [InlineData("STATUS:NEEDS-ACTION", true)]
    [InlineData("STATUS:IN-PROCESS|PERCENT-COMPLETE:50", true)]
    [InlineData("STATUS:COMPLETED", false)]
    [InlineData("STATUS:CANCELLED", false)]
    [InlineData("STATUS:NEEDS-ACTION|COMPLETED:20260304T160000Z", false)]
    public void The_scripting_library_asks_for_tasks_that_are_open(string properties, bool found) =>
        Assert.Equal(found, Query.Read("""
            <?xml version='1.0' encoding='utf-8'?>
            <C:calendar-query xmlns:D="DAV:" xmlns:C="urn:ietf:params:xml:ns:caldav"><D:prop><C:calendar-data/>
            </D:prop><C:filter><C:comp-filter name="VCALENDAR"><C:comp-filter name="VTODO">
            <C:prop-filter name="COMPLETED"><C:is-not-defined/></C:prop-filter><C:prop-filter name="STATUS">
            <C:text-match collation="i;ascii-casemap" negate-condition="yes">COMPLETED</C:text-match>
            </C:prop-filter><C:prop-filter name="STATUS">
            <C:text-match collation="i;ascii-casemap" negate-condition="yes">CANCELLED</C:text-match>
            </C:prop-filter></C:comp-filter></C:comp-filter></C:filter></C:calendar-query>
            """).Matches(Query.Component("VTODO", properties)));
}
