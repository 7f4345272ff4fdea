using System.Buffers;
using System.Text;
using CsCheck;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.Tests.Calendar;

public class ContentLinesTests
{
    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    private static readonly string[] Awkward =
        [
            "👩‍👩‍👧‍👦", "e\u0301\u0323", "שלום", "مرحبا", "潮間帯", "🇵🇹", "\u202Emud", "\r\n", "\n", "\r",
            "\\n", "\\", ";", ",", ":",
            "\"", "^", "^n", "\t", " ", "\0", "\u0085", "\u2028",
            "\uD83D", "\uDE00", "\uFFFE", "\nBEGIN:VEVENT\n",
        ];

    private static readonly Gen<string> Pieces = Gen.OneOf(
        Gen.Int[0, Awkward.Length - 1].Select(i => Awkward[i]),
        Gen.Int[0, 0x10FFFF].Where(Rune.IsValid).Select(value => new Rune(value).ToString()),
        Gen.Char[' ', '~'].Array[0, 40].Select(characters => new string(characters)));

    private static readonly Gen<string> Texts = Pieces.Array[0, 60].Select(string.Concat);

    [Fact]
    public void Any_text_is_folded_at_75_octets_between_characters_and_read_back() => Texts.Sample(text =>
    {
        var physical = PhysicalLines(Written(lines => lines.Name("SUMMARY").Text(text)));

        Assert.All(physical, line => Assert.InRange(line.Length, 1, 75));
        var logical = Assert.Single(Unfolded(physical));
        Assert.Equal(Normal(text), Unescaped(logical["SUMMARY:".Length..]));
    }, iter: 2000);

    [Fact]
    public void Any_parameter_value_is_read_back_and_leaves_its_property_whole() => Texts.Sample(text =>
    {
        var physical = PhysicalLines(Written(lines => lines.Name("X-PLACE").Param("X-P", text).Text("value")));

        Assert.All(physical, line => Assert.InRange(line.Length, 1, 75));
        var logical = Assert.Single(Unfolded(physical));
        Assert.EndsWith(":value", logical, StringComparison.Ordinal);
        var value = logical["X-PLACE;X-P=".Length..^":value".Length];
        if (value.AsSpan().ContainsAny(':', ';', ','))
        {
            Assert.Equal(('"', '"'), (value[0], value[^1]));
            value = value[1..^1];
        }

        Assert.DoesNotContain('"', value);
        Assert.Equal(Normal(text), Unescaped(value, '^'));
    }, iter: 2000);

    [Fact]
    public void A_list_of_texts_keeps_its_commas_apart() => Texts.Array[1, 5].Sample(texts =>
    {
        var logical = Assert.Single(Unfolded(PhysicalLines(Written(lines => lines.Texts("CATEGORIES", texts)))));

        var parts = SplitAtCommas(logical["CATEGORIES:".Length..]);
        Assert.Equal(texts.Select(Normal), parts.Select(part => Unescaped(part)));
    });

    [Fact]
    public void The_standards_example_of_a_text_is_escaped_as_printed() => Assert.Equal(
        "DESCRIPTION:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.\r\n",
        Text(lines => lines.Text("DESCRIPTION", "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")));

    [Fact]
    public void The_standards_example_of_a_long_line_is_folded_and_unfolds_to_itself()
    {
        const string Long = "This is a long description that exists on a long line.";
        var text = string.Concat(Enumerable.Repeat(Long, 3));

        var physical = PhysicalLines(Written(lines => lines.Text("DESCRIPTION", text)));

        Assert.Equal([75, 75, 26], physical.Select(line => line.Length));
        Assert.Equal("DESCRIPTION:" + text, Assert.Single(Unfolded(physical)));
    }

    [Theory]
    [InlineData("back\\slash; and, comma", "back\\\\slash\\; and\\, comma")]
    [InlineData("one\r\ntwo\rthree\nfour", "one\\ntwo\\nthree\\nfour")]
    [InlineData("\r\n\n\r\r\n", "\\n\\n\\n\\n")]
    [InlineData("bell\a, tab\t, escape\u001b[31m, del\u007f", "bell\\, tab\t\\, escape[31m\\, del")]
    [InlineData("x\r\nEND:VEVENT\r\nBEGIN:VEVENT", "x\\nEND:VEVENT\\nBEGIN:VEVENT")]
    [InlineData("x\u2028BEGIN:VEVENT", "x\\nBEGIN:VEVENT")]
    [InlineData("colon: \"quotes\" stay", "colon: \"quotes\" stay")]
    public void A_text_is_escaped(string text, string expected) =>
        Assert.Equal($"SUMMARY:{expected}\r\n", Text(lines => lines.Name("SUMMARY").Text(text)));

    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("a;b", "\"a;b\"")]
    [InlineData("x\":BEGIN", "\"x^':BEGIN\"")]
    [InlineData("a^b\r\nc", "a^^b^nc")]
    public void A_parameter_is_quoted_and_encoded(string value, string expected) =>
        Assert.Equal($"X;P={expected}:v\r\n", Text(lines => lines.Name("X").Param("P", value).Text("v")));

    [Theory]
    [InlineData(0, "PT0S")]
    [InlineData(-900, "-PT15M")]
    [InlineData(3600, "PT1H")]
    [InlineData(3630, "PT1H0M30S")]
    [InlineData(86_400, "P1D")]
    [InlineData(90_061, "P1DT1H1M1S")]
    [InlineData(-1, "-PT1S")]
    public void A_duration_is_written_in_the_standards_form(int seconds, string expected) =>
        Assert.Equal($"D:{expected}\r\n", Text(lines => lines.Name("D").Span(Duration.FromSeconds(seconds))));

    private static byte[] Written(Action<ContentLines> write)
    {
        var output = new ArrayBufferWriter<byte>();
        write(new ContentLines(output));
        return output.WrittenSpan.ToArray();
    }

    private static string Text(Action<ContentLines> write) => Strict.GetString(Written(write));

    /// <summary>Without their CRLF. Each must be UTF-8 by itself.</summary>
    private static List<byte[]> PhysicalLines(byte[] bytes)
    {
        var lines = Encoding.Latin1.GetString(bytes).Split("\r\n").Select(Encoding.Latin1.GetBytes).ToList();
        Assert.Empty(lines[^1]);
        lines.RemoveAt(lines.Count - 1);
        Assert.All(lines, line => Assert.DoesNotContain(Strict.GetString(line), c => c is '\r' or '\n'));
        return lines;
    }

    private static List<string> Unfolded(List<byte[]> physical) =>
        [.. string.Join("\r\n", physical.Select(Strict.GetString)).Replace("\r\n ", "").Split("\r\n")];

    private static List<string> SplitAtCommas(string value)
    {
        List<string> parts = [""];
        for (var i = 0; i < value.Length; i++)
        {
            if (value[i] == ',')
            {
                parts.Add("");
                continue;
            }

            parts[^1] += value[i] == '\\' ? value.Substring(i++, 2) : value[i];
        }

        return parts;
    }

    private static string Unescaped(string value, char escape = '\\')
    {
        var text = new StringBuilder();
        for (var i = 0; i < value.Length; i++)
        {
            text.Append(value[i] != escape ? value[i] : value[++i] switch { 'n' => '\n', '\'' => '"', var c => c });
        }

        return text.ToString();
    }

    /// <summary>What the writer promises to keep of a text.</summary>
    private static string Normal(string text) => string.Concat(text
        .Replace("\r\n", "\n").Replace('\r', '\n')
        .Replace('\u0085', '\n').Replace('\u2028', '\n').Replace('\u2029', '\n')
        .EnumerateRunes()
        .Where(rune => rune.Value is '\n' or '\t' || (!Rune.IsControl(rune) && rune.Value is not (0xFFFE or 0xFFFF))));
}
