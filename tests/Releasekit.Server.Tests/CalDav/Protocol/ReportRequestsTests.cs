using System.Xml.Linq;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>
/// Bodies of reports. The grammar: RFC 4791 s.9.5 to 9.10, whose definitions of the elements in calendar-data were
/// read, and RFC 6578 s.6 (from memory).
/// </summary>
public class ReportRequestsTests
{
    private const string Etag = "<D:prop><D:getetag/></D:prop>";
    private const string Hour = "start='20260304T000000Z' end='20260304T010000Z'";

    private static readonly Interval ThatHour = new(
        Instant.FromUtc(2026, 3, 4, 0, 0), Instant.FromUtc(2026, 3, 4, 1, 0));

    [Fact]
    public void A_multiget_names_items_each_once_and_in_the_words_of_the_client()
    {
        var request = Multiget.TryRead(
            Element("C:calendar-multiget", Etag + Href("/dav/a%40b.ics") + Href("\n b ") + Href("/dav/a%40b.ics")),
            out var fault)!;

        Assert.Null(fault);
        Assert.Equal(["/dav/a%40b.ics", "b"], request.Hrefs);
        Assert.Equal([DavNames.GetETag], request.Wish.Names);
    }

    [Theory]
    [InlineData(0, 400)]
    [InlineData(1_000, null)]
    [InlineData(1_001, 507)]
    public void A_multiget_names_a_thousand_items_at_most(int hrefs, int? status)
    {
        var many = string.Concat(Enumerable.Range(0, hrefs).Select(i => Href($"/{i}")));

        var request = Multiget.TryRead(Element("C:calendar-multiget", Etag + many), out var fault);

        Assert.Equal(status, fault?.Status);
        Assert.Equal(status is null ? hrefs : null, request?.Hrefs.Count);
        Assert.Equal(
            status is 507 ? DavConditions.MatchesWithinLimits : null, fault?.Condition?.Name);
    }

    [Theory]
    [InlineData("<D:sync-token/><D:sync-level>1</D:sync-level>", null, false, null)]
    [InlineData("<D:sync-token> urn:x:sync:a:1:7 </D:sync-token>", "urn:x:sync:a:1:7", false, null)]
    [InlineData("<D:sync-token/><D:sync-level>infinite</D:sync-level><D:limit><D:nresults>100</D:nresults></D:limit>",
        null, true, 100)]
    [InlineData("<D:sync-token/><D:limit><D:nresults>99999999999</D:nresults></D:limit>", null, false, int.MaxValue)]
    public void A_synchronisation_begins_at_a_token(string inside, string? token, bool isInfinite, int? limit)
    {
        var request = SyncCollection.TryRead(Element("D:sync-collection", inside + Etag), out var fault)!;

        Assert.Null(fault);
        Assert.Equal(token, request.Token);
        Assert.Equal(isInfinite ? SyncLevel.Infinite : SyncLevel.One, request.Level);
        Assert.Equal(limit, request.Limit);
        Assert.Equal([DavNames.GetETag], request.Wish.Names);
    }

    [Theory]
    [InlineData("<D:sync-token/>")]
    [InlineData("<D:sync-level>1</D:sync-level>" + Etag)]
    [InlineData("<D:sync-token/><D:sync-level>2</D:sync-level>" + Etag)]
    [InlineData("<D:sync-token/><D:limit/>" + Etag)]
    [InlineData("<D:sync-token/><D:limit><D:nresults>0</D:nresults></D:limit>" + Etag)]
    [InlineData("<D:sync-token/><D:limit><D:nresults>-1</D:nresults></D:limit>" + Etag)]
    [InlineData("<D:sync-token/><D:prop/><D:propname/>")]
    public void A_synchronisation_that_is_not_understood_is_refused(string inside)
    {
        Assert.Null(SyncCollection.TryRead(Element("D:sync-collection", inside), out var fault));
        Assert.Equal(DavFault.Malformed, fault);
    }

    [Fact]
    public void A_query_hands_on_its_filter_and_its_zone()
    {
        const string filter = "<C:filter><C:comp-filter name='VCALENDAR'><C:comp-filter name='VTODO'/></C:comp-filter>"
            + "</C:filter>";

        var request = CalendarQuery.TryRead(
            Element("C:calendar-query", $"{Etag}{filter}<C:timezone>BEGIN:VCALENDAR\n</C:timezone>"), out var fault)!;
        var bare = CalendarQuery.TryRead(Element("C:calendar-query", filter), out _)!;

        Assert.Null(fault);
        Assert.Equal([DavNames.GetETag], request.Wish.Names);
        Assert.Equal(["VCALENDAR", "VTODO"], request.Filter.Descendants().Select(one => one.Attribute("name")?.Value));
        Assert.Equal("BEGIN:VCALENDAR\n", request.Timezone);
        Assert.Equal(PropWish.Nothing, bare.Wish);
        Assert.Null(bare.Timezone);
    }

    [Theory]
    [InlineData("C:calendar-query", Etag)]
    [InlineData("C:calendar-query", "<C:filter/><C:filter/>" + Etag)]
    [InlineData("C:calendar-query", "<D:allprop/><C:filter/>" + Etag)]
    [InlineData("D:calendar-query", "<C:filter/>" + Etag)]
    public void A_query_without_its_one_filter_is_refused(string root, string inside)
    {
        Assert.Null(CalendarQuery.TryRead(Element(root, inside), out var fault));
        Assert.Equal(DavFault.Malformed, fault);
    }

    [Fact]
    public void Of_calendar_data_components_and_properties_can_be_chosen()
    {
        var data = Data(
            """
            <C:comp name="VCALENDAR">
              <C:prop name="VERSION"/>
              <C:comp name="vevent"><C:prop name="uid"/><C:prop name="SUMMARY" novalue="yes"/><C:allcomp/></C:comp>
              <C:comp name="VTIMEZONE"><C:allprop/></C:comp>
            </C:comp>
            """,
            out var fault)!;

        Assert.Null(fault);
        var calendar = data.Component!;
        Assert.Equal(new Dictionary<string, bool> { ["VERSION"] = true }, calendar.Properties);
        Assert.Equal(["VEVENT", "VTIMEZONE"], calendar.Components!.Select(component => component.Name));
        Assert.Equal(
            new Dictionary<string, bool> { ["UID"] = true, ["SUMMARY"] = false }, calendar.Components![0].Properties);
        Assert.Null(calendar.Components[0].Components);
        Assert.Null(calendar.Components[1].Properties);
        Assert.Empty(calendar.Components[1].Components!);
    }

    [Fact]
    public void Of_calendar_data_a_time_can_be_chosen()
    {
        Assert.Equal(new(null, ThatHour, null), Data($"<C:expand {Hour}/>", out _));
        Assert.Equal(new(null, null, ThatHour), Data($"<C:limit-recurrence-set {Hour}/>", out _));
        Assert.Equal(new(null, null, null), Data("", out _));
    }

    [Theory]
    [InlineData("<C:comp/>", "", 400)]
    [InlineData("<C:comp name='VEVENT'/>", "", 400)]
    [InlineData("<C:comp name='VCALENDAR'><C:comp><C:allprop/></C:comp></C:comp>", "", 400)]
    [InlineData("<C:comp name='VCALENDAR'><C:prop/></C:comp>", "", 400)]
    [InlineData("<C:expand start='20260304T000000Z'/>", "", 400)]
    [InlineData("<C:expand start='20260304T000000Z' end='20260304T000000Z'/>", "", 400)]
    [InlineData("<C:expand start='20260304T000000' end='20260305T000000'/>", "", 400)]
    [InlineData("<C:limit-recurrence-set start='20260304' end='20260305'/>", "", 400)]
    [InlineData($"<C:expand {Hour}/><C:limit-recurrence-set {Hour}/>", "", 400)]
    [InlineData("", "content-type='application/calendar+json'", 403)]
    [InlineData("", "content-type='text/calendar' version='1.0'", 403)]
    public void Calendar_data_that_cannot_be_given_is_refused(string inside, string attributes, int status)
    {
        Assert.Null(Data(inside, out var fault, attributes));
        Assert.Equal(status, fault!.Status);
        Assert.Equal(status is 403 ? DavConditions.SupportedData : null, fault.Condition?.Name);
    }

    private static CalendarDataWish? Data(string inside, out DavFault? fault, string attributes = "version='2.0'") =>
        Multiget.TryRead(
            Element(
                "C:calendar-multiget",
                $"<D:prop><C:calendar-data {attributes}>{inside}</C:calendar-data></D:prop>{Href("/a")}"),
            out fault)?.Wish.CalendarData;

    private static string Href(string href) => $"<D:href>{href}</D:href>";

    private static XElement Element(string root, string inside) =>
        XElement.Parse($"<{root} xmlns:D='DAV:' xmlns:C='urn:ietf:params:xml:ns:caldav'>{inside}</{root}>");
}
