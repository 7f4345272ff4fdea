using System.Text;
using System.Xml.Linq;
using Microsoft.Extensions.Primitives;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>
/// Bodies of answers. Their grammar: RFC 4918 s.14.16, 14.22 and 14.24; the end of an answer that is cut off: RFC 6578
/// s.3.6; what may be left out: RFC 8144 s.2.1 (all from memory). They are read with the XML reader of .NET.
/// </summary>
public class MultiStatusTests
{
    private static readonly XName Tide = "{urn:example}tide";

    [Fact]
    public async Task Properties_are_grouped_by_what_became_of_them()
    {
        var answer = await Written(answer => answer.Response(
            "/dav/a.ics",
            [
                PropAnswer.Missing(Tide), PropAnswer.Found(DavNames.GetETag, "\"7\""), PropAnswer.Missing("bare"),
                PropAnswer.Refused(DavNames.Owner, DavConditions.ProtectedProperty),
                PropAnswer.Dependent(DavNames.DisplayName),
                PropAnswer.Found(DavNames.ResourceType, new XElement(DavNames.Collection)),
                PropAnswer.Refused(DavNames.CalendarOrder),
            ],
            default));

        Assert.Equal(
            [
                "HTTP/1.1 200 OK: {DAV:}getetag {DAV:}resourcetype",
                "HTTP/1.1 403 Forbidden: {DAV:}owner {DAV:}cannot-modify-protected-property",
                "HTTP/1.1 403 Forbidden: {http://apple.com/ns/ical/}calendar-order",
                "HTTP/1.1 404 Not Found: {urn:example}tide bare",
                "HTTP/1.1 424 Failed Dependency: {DAV:}displayname",
            ],
            answer.Descendants(DavNames.PropStat).Select(Told));
        Assert.All(answer.Descendants(DavNames.PropStat), group => Assert.Equal(
            group.Elements(DavNames.Error).Any()
                ? [DavNames.Prop, DavNames.Status, DavNames.Error]
                : [DavNames.Prop, DavNames.Status],
            group.Elements().Select(element => element.Name)));
        Assert.Equal("\"7\"", answer.Descendants(DavNames.GetETag).Single().Value);
        Assert.Equal(DavNames.Href, answer.Element(DavNames.Response)!.Elements().First().Name);
    }

    [Theory]
    [InlineData(false, "HTTP/1.1 404 Not Found: {urn:example}tide")]
    [InlineData(true, "HTTP/1.1 200 OK: ")]
    public async Task What_is_not_found_can_be_left_out(bool isMinimal, string expected)
    {
        var answer = await Written(answer => answer.Response("/a", [PropAnswer.Missing(Tide)], default), isMinimal);

        Assert.Equal(expected, Told(answer.Descendants(DavNames.PropStat).Single()));
    }

    [Fact]
    public async Task A_synchronisation_tells_what_is_gone_where_it_was_cut_off_and_where_to_go_on()
    {
        using var body = new MemoryStream();
        using var writer = new MultiStatus(body, isMinimal: true);

        await writer.Response("/dav/c/a.ics", 404, default);
        await writer.Truncated(Href.Of(true, "dav", "c"), default);
        await writer.End(default, "urn:x:sync:c:1:7");

        Assert.Equal(
            "<?xml version=\"1.0\" encoding=\"utf-8\"?><D:multistatus xmlns:D=\"DAV:\" "
            + "xmlns:C=\"urn:ietf:params:xml:ns:caldav\" xmlns:CS=\"http://calendarserver.org/ns/\" "
            + "xmlns:I=\"http://apple.com/ns/ical/\"><D:response><D:href>/dav/c/a.ics</D:href>"
            + "<D:status>HTTP/1.1 404 Not Found</D:status></D:response><D:response><D:href>/dav/c/</D:href>"
            + "<D:status>HTTP/1.1 507 Insufficient Storage</D:status>"
            + "<D:error><D:number-of-matches-within-limits /></D:error></D:response>"
            + "<D:sync-token>urn:x:sync:c:1:7</D:sync-token></D:multistatus>",
            Encoding.UTF8.GetString(body.ToArray()));
    }

    [Theory]
    [InlineData("BEGIN:VCALENDAR\r\nSUMMARY:a ]]> b & <c> \"d\"\r\n")]
    [InlineData("tab\t, umlaut ü, crab 🦀, \u2028, \u0085\r")]
    [InlineData(" \n ")]
    public async Task Calendar_data_arrives_as_it_is(string text)
    {
        var answer = await Written(answer =>
            answer.Response("/a", [PropAnswer.Found(DavNames.CalData, new XAttribute("a", text), text)], default));

        Assert.Equal(text, answer.Descendants(DavNames.CalData).Single().Value);
        Assert.Equal(text, answer.Descendants(DavNames.CalData).Single().Attribute("a")!.Value);
    }

    [Fact]
    public async Task What_XML_cannot_say_breaks_no_answer()
    {
        const string text = "\0a\u0008\u001f\ud83e\uffffb\udd80";
        var property = new XElement(Tide, new XAttribute("a", text), text, new XElement(Tide, new XCData(text)));

        var answer = await Written(answer => answer.Response($"/{text}", [new(200, property)], default));

        const string expected = "\ufffda\ufffd\ufffd\ufffd\ufffdb\ufffd";
        var tide = answer.Descendants(Tide).First();
        Assert.Equal($"/{expected}", answer.Descendants(DavNames.Href).Single().Value);
        Assert.Equal(expected + expected, tide.Value);
        Assert.Equal(expected, tide.Attribute("a")!.Value);
        Assert.Equal(text, property.Attribute("a")!.Value);
    }

    [Fact]
    public async Task A_long_answer_is_sent_in_parts_and_never_ends_by_accident()
    {
        using var body = new AsynchronousStream();

        using (var writer = new MultiStatus(body, isMinimal: false))
        {
            for (var i = 0; i < 100; i++)
            {
                await writer.Response($"/{i}", [PropAnswer.Found(DavNames.CalData, new string('a', 1_000))], default);
            }

            Assert.InRange(body.Length, 80_000, 150_000);
        }

        var text = Encoding.UTF8.GetString(body.ToArray());
        Assert.DoesNotContain("</D:multistatus>", text, StringComparison.Ordinal);
        Assert.Equal((byte)'<', body.ToArray()[0]);
    }

    [Theory]
    [InlineData("return=minimal", "", true)]
    [InlineData("respond-async, Return = \"minimal\"; a=b", "", true)]
    [InlineData("return=representation, return=minimal", "", false)]
    [InlineData("return", "f", false)]
    [InlineData("", "T", true)]
    [InlineData("", "", false)]
    public void Clients_can_ask_for_less(string prefer, string brief, bool expected)
    {
        var none = StringValues.Empty;

        Assert.Equal(expected, ReturnPreference.IsMinimal(
            prefer is "" ? none : prefer, brief is "" ? none : brief));
    }

    [Fact]
    public void A_fault_names_its_condition()
    {
        var item = Href.Of(false, "dav", "c", "a.ics");

        var conflict = XElement.Parse(Encoding.UTF8.GetString(DavFault.UidConflict(item).ToBytes()));
        var lacking = XElement.Parse(
            Encoding.UTF8.GetString(DavFault.NeedPrivileges(item, DavNames.Unbind).ToBytes()));

        Assert.Equal(DavNames.Error, conflict.Name);
        Assert.Equal("/dav/c/a.ics", conflict.Element(DavConditions.NoUidConflict)?.Element(DavNames.Href)?.Value);
        var resource = lacking.Element(DavConditions.NeedPrivileges)?.Element(DavNames.Resource);
        Assert.Equal("/dav/c/a.ics", resource?.Element(DavNames.Href)?.Value);
        Assert.NotNull(resource?.Element(DavNames.Privilege)?.Element(DavNames.Unbind));
        Assert.Empty(DavFault.PreconditionFailed.ToBytes());
    }

    private static string Told(XElement group) => $"{group.Element(DavNames.Status)!.Value}: " + string.Join(
        ' ', group.Elements(DavNames.Prop).Concat(group.Elements(DavNames.Error)).Elements().Select(one => one.Name));

    private static async Task<XElement> Written(Func<MultiStatus, Task> write, bool isMinimal = false)
    {
        using var body = new AsynchronousStream();
        using var writer = new MultiStatus(body, isMinimal);

        await write(writer);
        await writer.End(default);

        Assert.Equal((byte)'<', body.ToArray()[0]);

        return XElement.Parse(Encoding.UTF8.GetString(body.ToArray()), LoadOptions.PreserveWhitespace);
    }

    /// <summary>Refuses to be written to synchronously, as the HTTP server does.</summary>
    private sealed class AsynchronousStream : MemoryStream
    {
        public override void Write(byte[] buffer, int offset, int count) => throw new InvalidOperationException();

        public override void Write(ReadOnlySpan<byte> buffer) => throw new InvalidOperationException();

        public override void Flush() => throw new InvalidOperationException();

        public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
        {
            base.Write(buffer.ToArray(), 0, buffer.Length);
            return ValueTask.CompletedTask;
        }
    }
}
