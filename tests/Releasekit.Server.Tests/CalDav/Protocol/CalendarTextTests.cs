using System.Text;
using CsCheck;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

public class CalendarTextTests
{
    private const string WithAlarm =
        "UID:slot-12\nSUMMARY;LANGUAGE=en:No. 12\nX-MAKER-NOTE;X-A=\"b:c;d\";X-E=f:keep\nDTSTART:20260305T070000Z\n"
        + "BEGIN:VALARM\nACTION:DISPLAY\nSUMMARY:Alarm\nTRIGGER:-PT15M\nEND:VALARM";

    [Fact]
    public void One_property_changes_and_all_else_stays_as_it_was()
    {
        var text = Text(Bodies.Event(WithAlarm));

        var changed = text.SetText("SUMMARY", "Low water; take two, at dusk\nand \\ after")
            .Set("dtstart", "20260306", ("VALUE", "DATE"))
            .Set("LOCATION", "Jetty", ("ALTREP", "https://example.com/a;b"))
            .Remove("x-none");

        Assert.Equal(
            Bodies.Event(WithAlarm
                .Replace(
                    "SUMMARY;LANGUAGE=en:No. 12",
                    @"SUMMARY:Low water\; take two\, at dusk\nand \\ after",
                    StringComparison.Ordinal)
                .Replace(
                    "DTSTART:20260305T070000Z",
                    "dtstart;VALUE=DATE:20260306\nLOCATION;ALTREP=\"https://example.com/a;b\":Jetty",
                    StringComparison.Ordinal)),
            changed.ToString());
        Assert.Equal(Bodies.Event(WithAlarm), text.ToString());
    }

    [Fact]
    public void All_properties_of_a_name_go_but_not_those_of_an_alarm_an_override_or_a_zone()
    {
        const string alarm = "BEGIN:VALARM\nDESCRIPTION:In\nEND:VALARM";
        const string zone = "BEGIN:VTIMEZONE\nTZID:Jetty\nDESCRIPTION:Zone\nEND:VTIMEZONE";
        const string single = "BEGIN:VEVENT\nUID:a\nRECURRENCE-ID:20260305T070000Z\nDESCRIPTION:Single\nEND:VEVENT";
        var before = Bodies.Calendar(
            zone, single, $"BEGIN:VEVENT\nUID:a\nDESCRIPTION:1\nX-B:c\ndescription:2\n{alarm}\nEND:VEVENT");

        var after = Text(before).Remove("DESCRIPTION");

        Assert.Equal(
            Bodies.Calendar(zone, single, $"BEGIN:VEVENT\nUID:a\nX-B:c\n{alarm}\nEND:VEVENT"), after.ToString());
        Assert.Equal(after.ToString(), Text(before).Set("DESCRIPTION", "3").Remove("Description").ToString());
    }

    [Fact]
    public void The_example_of_folding_in_the_standard_unfolds_to_its_sentence()
    {
        // RFC 5545, 3.1.
        var text = Text(Bodies.Event(
            "UID:a\nDESCRIPTION:This is a lo\n ng description\n  that exists on a long line."));

        var description = text.Main!.First("DESCRIPTION")!;

        Assert.Equal("This is a long description that exists on a long line.", description.Value);
    }

    [Fact]
    public void Any_text_comes_back_and_no_physical_line_is_longer_than_75_octets() =>
        Gen.String[Gen.Char["aZ \t\\;:,\"^n\n潮é\u0085"], 0, 200].Sample(sent =>
        {
            var written = Text(Bodies.Event(Bodies.Slot)).SetText("SUMMARY", sent + "🦐").ToString();

            Assert.All(written.Split("\r\n"), line => Assert.InRange(Encoding.UTF8.GetByteCount(line), 0, 75));
            Assert.Equal(
                sent.ReplaceLineEndings("\n") + "🦐",
                TextValues.Unescape(Text(written).Main!.First("SUMMARY")!.Value));
            Assert.Equal(written, Text(written).ToString());
        });

    [Theory]
    [InlineData("SUMMARY", "a\r\nATTENDEE:mailto:mina@example.com")]
    [InlineData("SUMMARY", "a\nb")]
    [InlineData("SUM MARY", "a")]
    [InlineData("SUMMARY;X-A=b", "c")]
    [InlineData("", "a")]
    public void Nothing_but_one_property_can_be_set(string name, string value)
    {
        var text = Text(Bodies.Event(Bodies.Slot));

        Assert.Throws<ArgumentException>(() => text.Set(name, value));
    }

    [Theory]
    [InlineData("a\"b")]
    [InlineData("a;b\":c")]
    public void A_quote_cannot_leave_its_parameter(string value)
    {
        var text = Text(Bodies.Event(Bodies.Slot));

        Assert.Throws<ArgumentException>(() => text.Set("LOCATION", "Jetty", ("X-A", value)));
    }

    private static CalendarText Text(string text)
    {
        var read = CalendarText.TryRead(text, out var fault);

        Assert.Null(fault);
        return read!;
    }
}
