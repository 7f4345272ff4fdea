namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>
/// The examples of RFC 4791 section 7.8: the filter as it stands there, and the items of the answer. The text of the
/// standard was at hand.
/// </summary>
public class StandardExamplesTests
{
    [Theory]
    // 7.8.1; the day of 4 January.
    [InlineData("VEVENT", "20060104T000000Z", "20060105T000000Z", "abcd2 abcd3")]
    // 7.8.2 and 7.8.3.
    [InlineData("VEVENT", "20060103T000000Z", "20060105T000000Z", "abcd2 abcd3")]
    // 7.8.4.
    [InlineData("VFREEBUSY", "20060102T000000Z", "20060103T000000Z", "abcd8")]
    public void Sections_1_to_4_ask_for_a_range(string component, string start, string end, string found) =>
        Assert.Equal(found.Split(' '), StandardCollection.FoundBy($"""
            <C:filter>
              <C:comp-filter name="VCALENDAR">
                <C:comp-filter name="{component}">
                  <C:time-range start="{start}"
                                end="{end}"/>
                </C:comp-filter>
              </C:comp-filter>
            </C:filter>
            """));

    [Fact]
    public void Section_5_asks_for_an_alarm()
    {
        var filter = Query.Read("""
            <C:filter>
              <C:comp-filter name="VCALENDAR">
                <C:comp-filter name="VTODO">
                  <C:comp-filter name="VALARM">
                    <C:time-range start="20060106T100000Z"
                                  end="20060107T100000Z"/>
                  </C:comp-filter>
                </C:comp-filter>
              </C:comp-filter>
            </C:filter>
            """);

        // The answer shows a task due at noon; in Appendix B it is due on the day, and its alarm goes off at 04:50 UTC.
        Assert.True(filter.Matches(
            StandardCollection.Todo("DUE;TZID=US/Eastern:20060106T120000|SUMMARY:Task #2", hasAlarm: true),
            StandardCollection.Zone));
        Assert.False(filter.Matches(
            StandardCollection.Todo("DUE;VALUE=DATE:20060106|SUMMARY:Task #2", hasAlarm: true),
            StandardCollection.Zone));
        Assert.True(Query.Of("<C:comp-filter name='VTODO'><C:comp-filter name='VALARM'>"
            + "<C:time-range start='20060106T045000Z' end='20060106T045001Z'/></C:comp-filter></C:comp-filter>")
            .Matches(
                StandardCollection.Todo("DUE;VALUE=DATE:20060106|SUMMARY:Task #2", hasAlarm: true),
                StandardCollection.Zone));
    }

    [Fact]
    public void Section_6_asks_for_a_UID() => Assert.Equal(["abcd3"], StandardCollection.FoundBy("""
        <C:filter>
          <C:comp-filter name="VCALENDAR">
            <C:comp-filter name="VEVENT">
              <C:prop-filter name="UID">
                <C:text-match collation="i;octet"
                >DC6C50A017428C5216A2F1CD@example.com</C:text-match>
              </C:prop-filter>
            </C:comp-filter>
          </C:comp-filter>
        </C:filter>
        """));

    [Fact]
    public void Section_7_asks_who_has_not_answered() => Assert.Equal(["abcd3"], StandardCollection.FoundBy("""
        <C:filter>
          <C:comp-filter name="VCALENDAR">
            <C:comp-filter name="VEVENT">
              <C:prop-filter name="ATTENDEE">
                <C:text-match collation="i;ascii-casemap"
                 >mailto:lisa@example.com</C:text-match>
                <C:param-filter name="PARTSTAT">
                  <C:text-match collation="i;ascii-casemap"
                   >NEEDS-ACTION</C:text-match>
                </C:param-filter>
              </C:prop-filter>
            </C:comp-filter>
          </C:comp-filter>
        </C:filter>
        """));

    [Fact]
    public void Section_8_asks_for_events() => Assert.Equal(["abcd1", "abcd2", "abcd3"], StandardCollection.FoundBy("""
        <C:filter>
          <C:comp-filter name="VCALENDAR">
            <C:comp-filter name="VEVENT"/>
          </C:comp-filter>
        </C:filter>
        """));

    [Fact]
    public void Section_9_asks_for_what_is_still_to_be_done() =>
        Assert.Equal(["abcd4", "abcd5"], StandardCollection.FoundBy("""
            <C:filter>
              <C:comp-filter name="VCALENDAR">
                <C:comp-filter name="VTODO">
                  <C:prop-filter name="COMPLETED">
                    <C:is-not-defined/>
                  </C:prop-filter>
                  <C:prop-filter name="STATUS">
                    <C:text-match
                       negate-condition="yes">CANCELLED</C:text-match>
                  </C:prop-filter>
                </C:comp-filter>
              </C:comp-filter>
            </C:filter>
            """));

    [Fact]
    public void Appendix_B_asks_for_all() => Assert.Equal(8, StandardCollection.FoundBy("""
        <C:filter>
          <C:comp-filter name="VCALENDAR"/>
        </C:filter>
        """).Count());
}
