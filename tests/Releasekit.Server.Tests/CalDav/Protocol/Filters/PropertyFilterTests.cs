namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>Properties, parameters and texts: RFC 4791 sections 7.5, 9.7.2 to 9.7.5, and the end of 9.9.</summary>
public class PropertyFilterTests
{
    [Theory]
    [InlineData("SUMMARY", "<C:text-match>REED</C:text-match>", "SUMMARY:Issue 12: the reed bed", true)]
    [InlineData("SUMMARY", "<C:text-match collation='default'>REED</C:text-match>", "SUMMARY:the reed bed", true)]
    [InlineData("SUMMARY", "<C:text-match collation='i;octet'>REED</C:text-match>", "SUMMARY:the reed bed", false)]
    [InlineData("SUMMARY", "<C:text-match collation='i;octet'>reed</C:text-match>", "SUMMARY:the reed bed", true)]
    // i;ascii-casemap leaves letters outside of ASCII alone (RFC 4790 section 9.2, from memory).
    [InlineData("SUMMARY", "<C:text-match>ÉTANG</C:text-match>", "SUMMARY:étang", false)]
    [InlineData("SUMMARY", "<C:text-match>éTANG</C:text-match>", "SUMMARY:étang", true)]
    [InlineData("SUMMARY", "<C:text-match>k</C:text-match>", "SUMMARY:\u212a", false)]
    [InlineData("SUMMARY", "<C:text-match>reed; bed, mud</C:text-match>", "SUMMARY:Reed\\; bed\\, mud", true)]
    [InlineData("CATEGORIES", "<C:text-match>audio</C:text-match>", "CATEGORIES:print,audio", true)]
    [InlineData("CATEGORIES", "<C:text-match negate-condition='yes'>audio</C:text-match>", "CATEGORIES:a,audio", false)]
    [InlineData("STATUS", "<C:text-match negate-condition='yes'>CANCELLED</C:text-match>", "STATUS:CONFIRMED", true)]
    [InlineData("STATUS", "<C:text-match negate-condition='yes'>CANCELLED</C:text-match>", "SUMMARY:No status", false)]
    [InlineData("RRULE", "<C:text-match>freq=weekly</C:text-match>", "DTSTART:20260101|RRULE:FREQ=WEEKLY", true)]
    [InlineData("DTSTART", "<C:text-match>20260101</C:text-match>", "DTSTART;VALUE=DATE:20260101", true)]
    [InlineData("GEO", "<C:text-match>51.2</C:text-match>", "GEO:51.2;4.4", true)]
    [InlineData("X-COLOUR-OF-PAPER", "<C:text-match>cream</C:text-match>", "X-COLOUR-OF-PAPER:Cream", true)]
    [InlineData("COMMENT", "<C:text-match>two</C:text-match>", "COMMENT:one|COMMENT:two", true)]
    [InlineData("COMMENT", "", "COMMENT:one", true)]
    [InlineData("COMMENT", "", "SUMMARY:one", false)]
    [InlineData("COMMENT", "<C:is-not-defined/>", "SUMMARY:one", true)]
    [InlineData("COMMENT", "<C:is-not-defined/>", "COMMENT:one", false)]
    public void A_property_is_searched(string name, string asked, string properties, bool matches) =>
        Assert.Equal(matches, Asked("VEVENT", name, asked, properties));

    [Theory]
    [InlineData("<C:param-filter name='PARTSTAT'/>", true)]
    [InlineData("<C:param-filter name='RSVP'/>", false)]
    [InlineData("<C:param-filter name='RSVP'><C:is-not-defined/></C:param-filter>", true)]
    [InlineData("<C:param-filter name='CN'><C:is-not-defined/></C:param-filter>", true)]
    [InlineData("<C:param-filter name='CN'><C:text-match>Okafor, L: \"ed\"</C:text-match></C:param-filter>", false)]
    [InlineData("<C:param-filter name='cn'><C:text-match>okafor: l</C:text-match></C:param-filter>", true)]
    // Both of one and the same property, not each of some property.
    [InlineData("<C:text-match>ines</C:text-match><C:param-filter name='PARTSTAT'>"
        + "<C:text-match>ACCEPTED</C:text-match></C:param-filter>", false)]
    [InlineData("<C:text-match>lena</C:text-match><C:param-filter name='PARTSTAT'>"
        + "<C:text-match>ACCEPTED</C:text-match></C:param-filter>", true)]
    [InlineData("<C:text-match>ines</C:text-match><C:param-filter name='PARTSTAT'>"
        + "<C:text-match negate-condition='yes'>ACCEPTED</C:text-match></C:param-filter>", true)]
    public void A_parameter_is_one_of_the_property_that_is_searched(string asked, bool matches) => Assert.Equal(
        matches,
        Asked("VEVENT", "ATTENDEE", asked,
            "ATTENDEE;PARTSTAT=ACCEPTED;CN=\"Okafor: L\":mailto:lena@releases.example|"
            + "ATTENDEE;PARTSTAT=DECLINED:mailto:ines@releases.example"));

    [Theory]
    [InlineData("VEVENT", "DTSTART", "DTSTART:20260310T000000Z", true)]
    [InlineData("VEVENT", "DTSTART", "DTSTART:20260311T000000Z", false)]
    [InlineData("VEVENT", "DTSTART", "DTSTART:20260303T120000Z|RRULE:FREQ=WEEKLY", true)]
    [InlineData("VEVENT", "DTEND", "DTSTART:20260309T120000Z|DTEND:20260310T120000Z", true)]
    [InlineData("VEVENT", "DTEND", "DTSTART:20260309T120000Z|DURATION:P1D", true)]
    [InlineData("VEVENT", "DTEND", "DTSTART:20260310T120000Z", false)]
    [InlineData("VTODO", "DUE", "DUE:20260310T120000Z", true)]
    [InlineData("VTODO", "DUE", "DTSTART:20260309T120000Z|DURATION:P1D", true)]
    [InlineData("VTODO", "DUE", "DURATION:P1D", false)]
    [InlineData("VTODO", "COMPLETED", "COMPLETED:20260310T235959Z", true)]
    [InlineData("VTODO", "COMPLETED", "COMPLETED:20260311T000000Z", false)]
    [InlineData("VTODO", "COMPLETED", "DUE:20260310T120000Z", false)]
    [InlineData("VTODO", "CREATED", "CREATED:20260310T000000Z", true)]
    [InlineData("VEVENT", "LAST-MODIFIED", "LAST-MODIFIED:20260310T120000Z", true)]
    [InlineData("VEVENT", "DTSTAMP", "SUMMARY:The time stamp is of 1 January", false)]
    [InlineData("VFREEBUSY", "DTEND", "DTSTART:20260309T000000Z|DTEND:20260310T120000Z", true)]
    public void A_date_lies_in_a_range(string component, string name, string properties, bool matches) => Assert.Equal(
        matches, Asked(component, name, Query.Range("20260310T000000Z", "20260311T000000Z"), properties));

    [Theory]
    [InlineData("<C:prop-filter name='VERSION'><C:text-match>2.0</C:text-match></C:prop-filter>", true)]
    [InlineData("<C:prop-filter name='METHOD'><C:is-not-defined/></C:prop-filter>", true)]
    [InlineData("<C:comp-filter name='VTODO'><C:is-not-defined/></C:comp-filter>", true)]
    [InlineData("<C:comp-filter name='VEVENT'><C:is-not-defined/></C:comp-filter>", false)]
    [InlineData("<C:comp-filter name='VEVENT'><C:comp-filter name='VALARM'/></C:comp-filter>", true)]
    [InlineData("<C:comp-filter name='VEVENT'><C:comp-filter name='VALARM'><C:is-not-defined/>"
        + "</C:comp-filter></C:comp-filter>", false)]
    [InlineData("<C:comp-filter name='X-PROOF'/>", true)]
    [InlineData("<C:comp-filter name='X-PROOF'/><C:comp-filter name='VTODO'/>", false)]
    public void Calendars_and_components_are_asked_alike(string asked, bool matches) => Assert.Equal(
        matches,
        Query.Of(asked).Matches(
            Query.Component("VEVENT", "SUMMARY:Issue 12|BEGIN:VALARM|TRIGGER:PT0S|ACTION:DISPLAY|END:VALARM")
            + "\nBEGIN:X-PROOF\nX-NUMBER:2\nEND:X-PROOF"));

    private static bool Asked(string component, string name, string asked, string properties) => Query.Of(
        $"<C:comp-filter name='{component}'><C:prop-filter name='{name}'>{asked}</C:prop-filter></C:comp-filter>")
        .Matches(Query.Component(component, properties));
}
