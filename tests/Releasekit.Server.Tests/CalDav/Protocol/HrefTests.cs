using CsCheck;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>
/// Paths. Unreserved characters and percent-encoding: RFC 3986 s.2.1 to 2.3; what may be in an href: RFC 4918 s.8.3
/// (both from memory).
/// </summary>
public class HrefTests
{
    [Theory]
    [InlineData("/", "/")]
    [InlineData("/dav/calendars/u1/slots/", "/dav/calendars/u1/slots/")]
    [InlineData("/dav/a%40b.ics", "/dav/a@b.ics")]
    [InlineData("/dav/a@b.ics", "/dav/a@b.ics")]
    [InlineData("/dav/%7Etide%2d1.ics", "/dav/~tide-1.ics")]
    [InlineData("/dav/Gr%C3%BCn%20%26%20(blau)!.ics", "/dav/Gr%C3%BCn%20%26%20%28blau%29%21.ics")]
    [InlineData("/dav/Grün & (blau)!.ics", "/dav/Gr%C3%BCn%20%26%20%28blau%29%21.ics")]
    [InlineData("/dav/a%2fb", "/dav/a%2Fb")]
    [InlineData("/dav/%F0%9F%A6%80:+%25", "/dav/%F0%9F%A6%80%3A%2B%25")]
    [InlineData("HTTPS://cal.example:8443/dav/a%3Fb", "/dav/a%3Fb")]
    [InlineData("http://cal.example", "/")]
    [InlineData("\n  /dav/a.ics\n", "/dav/a.ics")]
    public void Whatever_way_a_path_is_written_it_is_written_back_in_one(string text, string expected)
    {
        Assert.Equal(expected, Href.TryParse(text)?.ToString());
        Assert.Equal(Href.TryParse(expected), Href.TryParse(text));
    }

    [Theory]
    [InlineData("")]
    [InlineData("dav/a")]
    [InlineData("//cal.example/dav/")]
    [InlineData("/dav//a")]
    [InlineData("//")]
    [InlineData("/dav/../a")]
    [InlineData("/dav/%2E%2e/a")]
    [InlineData("/dav/.")]
    [InlineData("/dav/a?b")]
    [InlineData("/dav/a#b")]
    [InlineData("/dav\\a")]
    [InlineData("/dav/a%")]
    [InlineData("/dav/a%4")]
    [InlineData("/dav/a%4g")]
    [InlineData("/dav/a%+4")]
    [InlineData("/dav/a%00")]
    [InlineData("/dav/a%0D%0AX:1")]
    [InlineData("/dav/a%C3")]
    [InlineData("/dav/a%C0%AF")]
    [InlineData("/dav/a%ED%A0%80")]
    [InlineData("http:///dav/")]
    [InlineData("https://")]
    [InlineData("mailto:a@cal.example")]
    [InlineData("urn:uuid:1")]
    public void What_is_no_path_is_none(string text) => Assert.Null(Href.TryParse(text));

    [Fact]
    public void A_slash_in_a_name_parts_nothing()
    {
        var item = Href.TryParse("/dav/a%2Fb")!;

        Assert.Equal(["dav", "a/b"], item.Segments);
        Assert.NotEqual(Href.TryParse("/dav/a/b"), item);
        Assert.True(item.IsMemberOf(Href.Of(true, "dav")));
    }

    [Theory]
    [InlineData("/dav/c/a.ics", true)]
    [InlineData("/d%61v/c/a.ics", true)]
    [InlineData("/dav/c/", false)]
    [InlineData("/dav/c/d/a.ics", false)]
    [InlineData("/dav/C/a.ics", false)]
    [InlineData("/dav/other/a.ics", false)]
    public void A_member_stands_directly_in_its_collection(string text, bool expected) =>
        Assert.Equal(expected, Href.TryParse(text)!.IsMemberOf(Href.Of(true, "dav", "c")));

    [Fact]
    public void Any_name_comes_back_as_it_was() => Gen.String[1, 20]
        .Where(name => CanBeNamed(name))
        .Sample(name =>
        {
            var written = Href.Of(false, "dav", name);
            var read = Href.TryParse(written.ToString());

            return written.Equals(read) && read.Segments[1] == name && written.ToString().All(char.IsAscii);
        });

    [Fact]
    public void A_name_that_no_path_can_hold_is_a_defect() => Assert.All(
        ["", ".", "..", "a\n", "a\0", "\ud83e"],
        name => Assert.Throws<ArgumentException>(() => Href.Of(false, "dav", name)));

    private static bool CanBeNamed(string name) =>
        name is not ("." or "..") && !name.Any(letter => char.IsControl(letter) || char.IsSurrogate(letter));
}
