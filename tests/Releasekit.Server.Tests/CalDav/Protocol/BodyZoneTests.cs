using System.Buffers;
using System.Text;
using Ical.Net.CalendarComponents;
using Ical.Net.Serialization;
using Releasekit.Server.CalDav.Protocol;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>Against the tz database, for zones that the standard and another library describe.</summary>
public class BodyZoneTests
{
    // RFC 5545, 3.6.5: New York since 1967.
    private const string NewYork = """
        BEGIN:VTIMEZONE
        TZID:America/New_York
        LAST-MODIFIED:20050809T050000Z
        BEGIN:DAYLIGHT
        DTSTART:19670430T020000
        RRULE:FREQ=YEARLY;BYMONTH=4;BYDAY=-1SU;UNTIL=19730429T070000Z
        TZOFFSETFROM:-0500
        TZOFFSETTO:-0400
        TZNAME:EDT
        END:DAYLIGHT
        BEGIN:STANDARD
        DTSTART:19671029T020000
        RRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=-1SU;UNTIL=20061029T060000Z
        TZOFFSETFROM:-0400
        TZOFFSETTO:-0500
        TZNAME:EST
        END:STANDARD
        BEGIN:DAYLIGHT
        DTSTART:19740106T020000
        RDATE:19750223T020000
        TZOFFSETFROM:-0500
        TZOFFSETTO:-0400
        TZNAME:EDT
        END:DAYLIGHT
        BEGIN:DAYLIGHT
        DTSTART:19760425T020000
        RRULE:FREQ=YEARLY;BYMONTH=4;BYDAY=-1SU;UNTIL=19860427T070000Z
        TZOFFSETFROM:-0500
        TZOFFSETTO:-0400
        TZNAME:EDT
        END:DAYLIGHT
        BEGIN:DAYLIGHT
        DTSTART:19870405T020000
        RRULE:FREQ=YEARLY;BYMONTH=4;BYDAY=1SU;UNTIL=20060402T070000Z
        TZOFFSETFROM:-0500
        TZOFFSETTO:-0400
        TZNAME:EDT
        END:DAYLIGHT
        BEGIN:DAYLIGHT
        DTSTART:20070311T020000
        RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU
        TZOFFSETFROM:-0500
        TZOFFSETTO:-0400
        TZNAME:EDT
        END:DAYLIGHT
        BEGIN:STANDARD
        DTSTART:20071104T020000
        RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU
        TZOFFSETFROM:-0400
        TZOFFSETTO:-0500
        TZNAME:EST
        END:STANDARD
        END:VTIMEZONE
        """;

    // How a widely used mail suite writes Central European time (from memory): from 1601, under a name of its own.
    private const string Private = """
        BEGIN:VTIMEZONE
        TZID:Customized Time Zone\, 1
        BEGIN:STANDARD
        DTSTART:16010101T030000
        TZOFFSETFROM:+0200
        TZOFFSETTO:+0100
        RRULE:FREQ=YEARLY;INTERVAL=1;BYDAY=-1SU;BYMONTH=10
        END:STANDARD
        BEGIN:DAYLIGHT
        DTSTART:16010101T020000
        TZOFFSETFROM:+0100
        TZOFFSETTO:+0200
        RRULE:FREQ=YEARLY;INTERVAL=1;BYDAY=-1SU;BYMONTH=3
        END:DAYLIGHT
        END:VTIMEZONE
        """;

    [Fact]
    public void The_example_of_the_standard_is_New_York_in_every_year_served() =>
        AssertSame("America/New_York", NewYork, 1970, 2199);

    // Of Lord Howe and Apia Ical.Net 5.2.4 describes other clocks than the tz database.
    [Theory]
    [InlineData("Europe/Lisbon")]
    [InlineData("America/New_York")]
    [InlineData("America/Caracas")]
    [InlineData("Asia/Kathmandu")]
    public void A_zone_that_another_library_describes_is_that_zone(string id)
    {
        var written = new ComponentSerializer().SerializeToString(
            VTimeZone.FromDateTimeZone(id, new DateTime(2005, 1, 1), includeHistoricalData: true));

        AssertSame(id, written!, 2006, 2030);
    }

    // TimeZoneComponentTests has these descriptions read by a reader that is not ours.
    [Theory]
    [InlineData("Australia/Lord_Howe")]
    [InlineData("Pacific/Apia")]
    [InlineData("Africa/Casablanca")]
    [InlineData("Europe/Dublin")]
    [InlineData("Antarctica/Troll")]
    public void A_zone_as_it_is_served_comes_back(string id)
    {
        var output = new ArrayBufferWriter<byte>();

        TimeZoneComponent.Write(
            new ContentLines(output),
            DateTimeZoneProviders.Tzdb[id],
            Instant.FromUtc(2005, 1, 1, 0, 0),
            Instant.FromUtc(2031, 1, 1, 0, 0));

        AssertSame(id, Encoding.UTF8.GetString(output.WrittenSpan), 2005, 2030);
    }

    [Theory]
    [InlineData("20260305T070000", 3, 5, 6, 0)]
    [InlineData("20260705T070000", 7, 5, 5, 0)]
    // A gap, then a fold (RFC 5545, 3.3.5): read as before the gap, and as the first of two.
    [InlineData("20260329T023000", 3, 29, 1, 30)]
    [InlineData("20261025T023000", 10, 25, 0, 30)]
    public void A_private_zone_is_known_by_its_own_description(string wall, int month, int day, int hour, int minute)
    {
        var start = Start(Private, "\"Customized Time Zone, 1\"", wall);

        Assert.Equal(new CalendarMoment(Instant.FromUtc(2026, month, day, hour, minute)), start);
    }

    [Fact]
    public void The_description_counts_and_not_the_name()
    {
        var renamed = Private.Replace(@"Customized Time Zone\, 1", "America/New_York", StringComparison.Ordinal);

        Assert.Equal(Instant.FromUtc(2026, 3, 5, 6, 0), Start(renamed, "America/New_York", "20260305T070000").At);
    }

    [Theory]
    [InlineData("TZID:Jetty")]
    [InlineData("TZID:Jetty\nBEGIN:STANDARD\nTZOFFSETFROM:+0000\nTZOFFSETTO:+0100\nEND:STANDARD")]
    [InlineData("TZID:Jetty\nBEGIN:STANDARD\nDTSTART:19700101T000000\nTZOFFSETFROM:+0000\nTZOFFSETTO:+9900\n"
        + "END:STANDARD")]
    [InlineData("TZID:Jetty\nBEGIN:STANDARD\nDTSTART:19700101T000000\nTZOFFSETFROM:+0000\nTZOFFSETTO:+0100\n"
        + "RRULE:FREQ=DAILY\nEND:STANDARD")]
    [InlineData("TZID:Jetty\nBEGIN:STANDARD\nDTSTART:19700101T000000\nTZOFFSETFROM:+0000\nTZOFFSETTO:+0100\n"
        + "RRULE:FREQ=YEARLY;BYDAY=MO,TU,WE,TH,FR,SA,SU;BYSETPOS=1\nEND:STANDARD")]
    public void A_description_that_tells_no_clocks_is_refused_where_it_is_needed(string zone)
    {
        var part = Bodies.Part("VTIMEZONE", zone);

        Assert.Equal(
            "403 valid-calendar-data", Bodies.Fault(Bodies.Event("UID:a\nDTSTART;TZID=Jetty:20260305T070000", part)));
        Assert.Equal("a", Bodies.Read(Bodies.Event("UID:a\nDTSTART:20260305T070000Z", part)).Uid);
    }

    private static void AssertSame(string id, string zone, int firstYear, int lastYear)
    {
        var expected = DateTimeZoneProviders.Tzdb[id];
        var part = CalendarText.TryRead(Bodies.Calendar(zone), out _)!.Calendar.Parts.Single();
        var patience = 1_000;
        var read = BodyZone.Read("x", part, ref patience);
        var first = Instant.FromUtc(firstYear, 1, 1, 12, 0);
        var last = Instant.FromUtc(lastYear, 12, 31, 12, 0);
        var weekly = Enumerable.Range(0, (int)(last - first).TotalDays / 7).Select(week => 7 * Duration.FromDays(week));
        var instants = expected.GetZoneIntervals(first, last)
            .Where(interval => interval.HasStart && interval.Start > first)
            .SelectMany(interval => new[] { interval.Start - Duration.FromSeconds(1), interval.Start })
            .Concat(weekly.Select(later => first + later))
            .ToList();

        Assert.Equal(instants.Select(expected.GetUtcOffset), instants.Select(read.GetUtcOffset));
        Assert.All(instants.Where((_, i) => i % 10 == 0), at => Assert.Equal(
            expected.ResolveLocal(at.InZone(expected).LocalDateTime, WallTimes.OfTheStandard).ToInstant(),
            read.ResolveLocal(at.InZone(expected).LocalDateTime, WallTimes.OfTheStandard).ToInstant()));
    }

    private static CalendarMoment Start(string zone, string id, string wall) => (CalendarMoment)Bodies
        .Read(Bodies.Event($"UID:a\nDTSTART;TZID={id}:{wall}", Bodies.Lines(zone))).Main.Start!;
}
