namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>The grammar of RFC 4791 sections 9.7 and 9.9, and the preconditions of section 7.8.</summary>
public class FilterGrammarTests
{
    private const string Range = "<C:time-range start='20260101T000000Z'/>";

    [Theory]
    [InlineData("<C:filter/>")]
    [InlineData("<C:filter><C:comp-filter/></C:filter>")]
    [InlineData("<C:filter><C:comp-filter name='VEVENT'/></C:filter>")]
    [InlineData("<C:filter><C:comp-filter name='VCALENDAR'/><C:comp-filter name='VCALENDAR'/></C:filter>")]
    [InlineData("<C:filter><C:prop-filter name='UID'/></C:filter>")]
    public void A_filter_holds_one_calendar(string filter) => AssertNotValid(filter);

    [Theory]
    // The two examples of section 7.8, valid-filter.
    [InlineData("<C:comp-filter name='VTODO'><C:comp-filter name='VEVENT'/></C:comp-filter>")]
    [InlineData($"<C:comp-filter name='VEVENT'><C:prop-filter name='SUMMARY'>{Range}</C:prop-filter></C:comp-filter>")]
    // A range where section 9.9 gives it no meaning.
    [InlineData(Range)]
    [InlineData($"<C:comp-filter name='VTIMEZONE'>{Range}</C:comp-filter>")]
    [InlineData($"<C:comp-filter name='VEVENT'><C:prop-filter name='X-SEEN'>{Range}</C:prop-filter></C:comp-filter>")]
    // Components where iCalendar has none.
    [InlineData("<C:comp-filter name='VALARM'/>")]
    [InlineData("<C:comp-filter name='VCALENDAR'/>")]
    [InlineData("<C:comp-filter name='VJOURNAL'><C:comp-filter name='VALARM'/></C:comp-filter>")]
    // Against the definitions of the elements.
    [InlineData("<C:comp-filter name='VEVENT'><C:text-match>a</C:text-match></C:comp-filter>")]
    [InlineData("<C:comp-filter name='VEVENT'><C:param-filter name='CN'/></C:comp-filter>")]
    [InlineData($"<C:comp-filter name='VEVENT'>{Range}{Range}</C:comp-filter>")]
    [InlineData($"<C:comp-filter name='VEVENT'><C:is-not-defined/>{Range}</C:comp-filter>")]
    [InlineData("<C:prop-filter name=' '/>")]
    [InlineData($"<C:prop-filter name='DTSTART'>{Range}<C:text-match>2026</C:text-match></C:prop-filter>")]
    [InlineData("<C:prop-filter name='UID'><C:is-not-defined/><C:text-match>a</C:text-match></C:prop-filter>")]
    [InlineData("<C:prop-filter name='UID'><C:text-match negate-condition='maybe'>a</C:text-match></C:prop-filter>")]
    [InlineData("<C:prop-filter name='UID'><C:param-filter name='A'><C:time-range/></C:param-filter></C:prop-filter>")]
    public void What_the_grammar_does_not_allow_is_no_valid_filter(string inner) => AssertNotValid(Whole(inner));

    [Theory]
    [InlineData("")]
    [InlineData("start='20260101'")]
    [InlineData("start='20260101T000000'")]
    [InlineData("start='2026-01-01T00:00:00Z'")]
    [InlineData("start='20260231T000000Z'")]
    [InlineData("start='20260101T000000Z' end=''")]
    [InlineData("start='20260101T000000Z' end='20260101T000000Z'")]
    [InlineData("start='20260102T000000Z' end='20260101T000000Z'")]
    public void A_bad_range_is_no_valid_filter(string sides) =>
        AssertNotValid(Whole($"<C:comp-filter name='VEVENT'><C:time-range {sides}/></C:comp-filter>"));

    [Fact]
    public void A_filter_has_bounds()
    {
        AssertNotValid(Whole(string.Concat(Enumerable.Repeat("<C:prop-filter name='UID'/>", 200))));
        AssertNotValid(Whole(string.Concat(Enumerable.Repeat("<C:comp-filter name='X-A'>", 200))
            + string.Concat(Enumerable.Repeat("</C:comp-filter>", 200))));
    }

    [Theory]
    [InlineData("i;unicode-casemap")]
    [InlineData("i;*")]
    [InlineData("I;OCTET")]
    [InlineData("")]
    public void An_unknown_collation_is_refused_by_its_own_name(string collation)
    {
        var filter = Query.TryRead(
            Whole($"<C:prop-filter name='UID'><C:text-match collation='{collation}'>a</C:text-match></C:prop-filter>"),
            out var fault);

        Assert.Null(filter);
        Assert.Equal(403, fault!.Status);
        Assert.Equal("{urn:ietf:params:xml:ns:caldav}supported-collation", fault.Condition.ToString());
    }

    [Fact]
    public void Elements_of_others_are_passed_over_and_names_may_be_written_small()
    {
        var filter = Query.Of(
            "<D:note>hello</D:note><C:comp-filter name='vevent' test='anyof'><C:prop-filter name='summary'><D:x/>"
            + "<C:text-match>issue</C:text-match></C:prop-filter></C:comp-filter>");

        Assert.True(filter.Matches(Query.Component("VEVENT", "SUMMARY:Issue 12")));
        Assert.False(filter.Matches(Query.Component("VTODO", "SUMMARY:Issue 12")));
    }

    private static string Whole(string inner) =>
        $"<C:filter><C:comp-filter name='VCALENDAR'>{inner}</C:comp-filter></C:filter>";

    private static void AssertNotValid(string filter)
    {
        Assert.Null(Query.TryRead(filter, out var fault));
        Assert.Equal(403, fault!.Status);
        Assert.Equal("{urn:ietf:params:xml:ns:caldav}valid-filter", fault.Condition.ToString());
    }
}
