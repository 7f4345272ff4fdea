using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using CsCheck;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>
/// Bodies of whatever sort. Hostile ones: Checks/hostile.json (our own collection; the OWASP cheat sheet on XML
/// external entities behind it). Encodings: XML 1.0 s.4.3.3 (from memory).
/// </summary>
public class DavXmlTests
{
    private const string Plain = "<propfind xmlns=\"DAV:\"><prop><getetag/></prop></propfind>";

    private static readonly Lazy<JsonElement[]> Known = new(() => [.. JsonDocument
        .Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", "hostile.json")))
        .RootElement.GetProperty("cases").EnumerateArray()
        .Where(one => one.GetProperty("kind").GetString() == "xml")]);

    public static TheoryData<string> Hostile => [.. Known.Value.Select(one => one.GetProperty("id").GetString()!)];

    [Theory]
    [MemberData(nameof(Hostile))]
    public void A_hostile_body_ends_in_its_class(string id)
    {
        var hostile = Known.Value.Single(one => one.GetProperty("id").GetString() == id);

        var body = DavXml.TryRead(Encoding.UTF8.GetBytes(TextOf(hostile)), out var fault);
        var request = fault is null ? PropFind.TryRead(body, out fault) : null;

        if (hostile.GetProperty("expect").GetString() == "accepted")
        {
            Assert.Null(fault);
            Assert.NotNull(request);
        }
        else
        {
            Assert.Null(request);
            Assert.InRange(fault!.Status, 400, 499);
        }
    }

    [Fact]
    public void All_known_hostile_bodies_are_tried() => Assert.Equal(19, Hostile.Count);

    [Fact]
    public void What_is_included_by_reference_stays_a_name()
    {
        var hostile = Known.Value.Single(one => one.GetProperty("id").GetString() == "X008");

        var request = PropFind.TryRead(DavXml.TryRead(Encoding.UTF8.GetBytes(TextOf(hostile)), out _), out _)!;

        Assert.Equal(["{http://www.w3.org/2001/XInclude}include"], request.Wish.Names.Select(name => name.ToString()));
    }

    [Theory]
    [InlineData(31, 0, 0, null)]
    [InlineData(32, 0, 0, 413)]
    [InlineData(0, 1_998, 0, null)]
    [InlineData(0, 1_999, 0, 413)]
    [InlineData(0, 0, 64, null)]
    [InlineData(0, 0, 65, 413)]
    public void A_body_is_read_up_to_its_limits(int nested, int siblings, int attributes, int? status)
    {
        var most = string.Concat(Enumerable.Range(0, attributes).Select(i => $" a{i}=''"));
        var text = $"<r>{Times("<a>", nested)}{Times("</a>", nested)}{Times("<b/>", siblings)}<c{most}/></r>";

        var body = Read(text, out var fault);

        Assert.Equal(status, fault?.Status);
        Assert.Equal(status is null, body is not null);
    }

    [Theory]
    [InlineData(262_000, null)]
    [InlineData(262_200, 413)]
    [InlineData(2_000_000, 413)]
    public void A_body_has_at_most_a_quarter_of_a_million_characters(int letters, int? status)
    {
        var text = $"<propertyupdate xmlns='DAV:'>{new string('ü', letters)}</propertyupdate>";

        Assert.Equal(status is null, Read(text, out var fault) is not null);
        Assert.Equal(status, fault?.Status);
    }

    [Theory]
    [InlineData("utf-8", "", true)]
    [InlineData("utf-8", "\ufeff", true)]
    [InlineData("utf-16", "\ufeff", true)]
    [InlineData("iso-8859-1", "", true)]
    [InlineData("utf-7", "", false)]
    [InlineData("utf-99", "", false)]
    public void The_bytes_say_what_they_are_encoded_in(string encoding, string mark, bool isRead)
    {
        var written = encoding is "utf-16" ? Encoding.Unicode
            : encoding is "iso-8859-1" ? Encoding.Latin1
            : new UTF8Encoding(false);
        var text = $"{mark}<?xml version='1.0' encoding='{encoding}'?><displayname xmlns='DAV:'>Grünes</displayname>";

        var body = DavXml.TryRead(written.GetBytes(text), out var fault);

        Assert.Equal(isRead ? "Grünes" : null, body?.Value);
        Assert.Equal(isRead ? null : 400, fault?.Status);
    }

    [Fact]
    public void Bytes_that_are_no_text_are_refused()
    {
        Assert.Null(DavXml.TryRead([.. "<a>"u8, 0xC0, 0xAF, .. "</a>"u8], out var fault));
        Assert.Equal(DavFault.Malformed, fault);
    }

    [Theory]
    [InlineData("<propfind xmlns='DAV:'>")]
    [InlineData("<propfind xmlns='DAV:'/><propfind xmlns='DAV:'/>")]
    [InlineData("<propfind xmlns='DAV:'/>tide")]
    [InlineData("<a:propfind xmlns:a=''/>")]
    [InlineData("<propfind xmlns='DAV:'>&tide;</propfind>")]
    [InlineData("<propfind xmlns='DAV:'>\u0001</propfind>")]
    [InlineData("<a b='1' b='2'/>")]
    [InlineData(" \r\n")]
    [InlineData("tide")]
    public void Broken_bodies_are_refused(string text)
    {
        Assert.Null(Read(text, out var fault));
        Assert.Equal(DavFault.Malformed, fault);
    }

    [Fact]
    public void A_text_keeps_its_blanks_and_loses_comments()
    {
        var body = Read("<!-- a --><d:displayname xmlns:d='DAV:'>  Tide<!-- b -->s  </d:displayname><?c d?>", out _);

        Assert.Equal("  Tides  ", body!.Value);
        Assert.Equal(" ", Read("<d:displayname xmlns:d='DAV:'> </d:displayname>", out _)!.Value);
    }

    [Fact]
    public void No_bytes_at_all_make_the_reader_fail() => Gen
        .Select(Gen.Byte.Array[0, 12], Gen.Int[0, Plain.Length], Gen.Int[0, 8])
        .Sample((noise, at, gone) =>
        {
            byte[] bytes = [.. Encoding.UTF8.GetBytes(Plain)];
            byte[] changed = [.. bytes[..at], .. noise, .. bytes.Skip(at + gone)];

            var body = DavXml.TryRead(changed, out var fault);

            return body is null ? changed.Length == 0 || fault is { Status: 400 } : fault is null;
        });

    private static string Times(string text, int times) => string.Concat(Enumerable.Repeat(text, times));

    private static XElement? Read(string text, out DavFault? fault) =>
        DavXml.TryRead(Encoding.UTF8.GetBytes(text), out fault);

    private static string TextOf(JsonElement hostile)
    {
        var text = hostile.GetProperty("input").GetString()!;

        return !hostile.TryGetProperty("repeat", out var repeat) ? text : text.Replace(
            repeat.GetProperty("token").GetString()!,
            Times(repeat.GetProperty("text").GetString()!, int.Parse(
                repeat.GetProperty("times").GetRawText(), CultureInfo.InvariantCulture)),
            StringComparison.Ordinal);
    }
}
