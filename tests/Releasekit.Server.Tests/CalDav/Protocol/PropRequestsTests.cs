using System.Xml.Linq;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>
/// Bodies of PROPFIND and PROPPATCH. What is legal: RFC 4918 s.9.1, 9.2, 14.20 and the examples of its appendix A
/// (A.3 two that exclude each other, A.4 an element that is not known).
/// </summary>
public class PropRequestsTests
{
    [Fact]
    public void Without_a_body_everything_is_asked_for()
    {
        var request = PropFind.TryRead(null, out var fault);

        Assert.Null(fault);
        Assert.Equal(PropWish.Everything, request!.Wish);
        Assert.Equal(PropScope.All, request.Wish.Scope);
    }

    [Theory]
    [InlineData("<D:allprop/>", nameof(PropScope.All), "")]
    [InlineData("<D:propname/>", nameof(PropScope.NamesOnly), "")]
    [InlineData("<D:propname/><E:leave-out>*boss*</E:leave-out>", nameof(PropScope.NamesOnly), "")]
    [InlineData("<D:allprop/><D:include><D:owner/><E:tide/></D:include>", nameof(PropScope.All),
        "{DAV:}owner {urn:example}tide")]
    [InlineData("<D:prop> <D:getetag/>x<getetag/><E:getetag a='1'><D:owner/></E:getetag> <D:getetag/></D:prop>",
        nameof(PropScope.Named), "{DAV:}getetag getetag {urn:example}getetag")]
    [InlineData("<D:prop/>", nameof(PropScope.Named), "")]
    public void A_body_asks_for_all_for_names_or_for_some(string inside, string scope, string names)
    {
        var wish = PropFind.TryRead(Element("propfind", inside), out var fault)!.Wish;

        Assert.Null(fault);
        Assert.Equal(scope, wish.Scope.ToString());
        Assert.Equal(names, string.Join(' ', wish.Names));
        Assert.Null(wish.CalendarData);
    }

    [Theory]
    [InlineData("propfind", "")]
    [InlineData("propfind", "<E:expired-props/>")]
    [InlineData("propfind", "<E:prop/>")]
    [InlineData("propfind", "<D:propname/><D:allprop/>")]
    [InlineData("propfind", "<D:prop><D:owner/></D:prop><D:propname/>")]
    [InlineData("propfind", "<D:prop><D:owner/></D:prop><D:prop/>")]
    [InlineData("propertyupdate", "<D:prop><D:owner/></D:prop>")]
    public void A_body_that_asks_for_nothing_or_for_two_things_is_refused(string root, string inside)
    {
        Assert.Null(PropFind.TryRead(Element(root, inside), out var fault));
        Assert.Equal(DavFault.Malformed, fault);
    }

    [Fact]
    public void Changes_keep_their_order_their_values_and_their_attributes()
    {
        var request = PropPatch.TryRead(
            Element(
                "propertyupdate",
                """
                <D:set>
                  <D:prop><D:displayname> Tide tables </D:displayname></D:prop>
                  <D:prop xmlns:A="http://apple.com/ns/ical/">
                    <A:calendar-color symbolic-color="blue">#1BADF8FF</A:calendar-color>
                  </D:prop>
                </D:set>
                <E:other><D:prop><D:owner/></D:prop></E:other>
                <D:remove><D:prop><D:displayname/><E:tide/></D:prop></D:remove>
                <D:set><D:prop><E:tide><D:href>a</D:href></E:tide></D:prop></D:set>
                """),
            out var fault)!;

        Assert.Null(fault);
        Assert.Equal(
            [
                (DavNames.DisplayName, false), (DavNames.CalendarColor, false), (DavNames.DisplayName, true),
                ("{urn:example}tide", true), ("{urn:example}tide", false),
            ],
            request.Changes.Select(change => (change.Name, change.IsRemoval)));
        Assert.Equal(" Tide tables ", request.Changes[0].Property.Value);
        Assert.Equal("blue", request.Changes[1].Property.Attribute("symbolic-color")?.Value);
        Assert.Equal(DavNames.Href, Assert.Single(request.Changes[4].Property.Elements()).Name);
    }

    [Theory]
    [InlineData("propertyupdate", "")]
    [InlineData("propertyupdate", "<D:set/>")]
    [InlineData("propertyupdate", "<D:prop><D:owner/></D:prop>")]
    [InlineData("propfind", "<D:set><D:prop><D:owner/></D:prop></D:set>")]
    public void A_body_that_changes_nothing_is_refused(string root, string inside)
    {
        Assert.Null(PropPatch.TryRead(Element(root, inside), out var fault));
        Assert.Equal(DavFault.Malformed, fault);
        Assert.Null(PropPatch.TryRead(null, out fault));
        Assert.Equal(DavFault.Malformed, fault);
    }

    private static XElement Element(string root, string inside) => XElement.Parse(
        $"<D:{root} xmlns:D='DAV:' xmlns:E='urn:example'>{inside}</D:{root}>", LoadOptions.PreserveWhitespace);
}
