using System.Text;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.Tests.Calendar;

public class TimeZoneComponentTests
{
    private static readonly Instant From = Instant.FromUtc(2020, 1, 1, 0, 0);
    private static readonly Instant Until = Instant.FromUtc(2030, 12, 31, 23, 0);

    public static TheoryData<string> Zones =>
    [
        "Africa/Casablanca", "Europe/Lisbon", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata",
        "Europe/Dublin", "Asia/Kathmandu", "America/Caracas", "Pacific/Apia", "Antarctica/Troll", "Africa/Monrovia",
    ];

    [Theory]
    [MemberData(nameof(Zones))]
    public void Another_reader_finds_the_same_offset_at_every_instant_of_the_range(string id)
    {
        var zone = DateTimeZoneProviders.Tzdb[id];
        var instants = Around(zone).Concat(Spread()).ToList();

        var parsed = ParsedCalendar.Read(CalendarWriter.Write(new(), [At(zone, From), At(zone, Until)]), instants);

        Assert.Equal(instants.Select(at => zone.GetUtcOffset(at).Seconds), parsed.Offsets[id]);
    }

    [Theory]
    [MemberData(nameof(Zones))]
    public void Another_reader_finds_the_instant_of_every_wall_time(string id)
    {
        var zone = DateTimeZoneProviders.Tzdb[id];
        var instants = Around(zone).Where((_, i) => i % 5 == 0).Concat(Spread().Where((_, i) => i % 10 == 0)).ToList();

        var parsed = ParsedCalendar.Read(CalendarWriter.Write(new(), [.. instants.Select(at => At(zone, at))]));

        Assert.Equal(instants, parsed.Events.Select(entry => entry.At("DTSTART")!.Value));
        Assert.Equal(
            instants.Select(at => at + Duration.FromMinutes(15)),
            parsed.Events.Select(entry => entry.At("DTEND")!.Value));
    }

    [Fact]
    public void A_range_as_short_as_one_instant_is_right_wherever_it_lies()
    {
        var zone = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
        foreach (var month in Enumerable.Range(1, 12))
        {
            var at = Instant.FromUtc(2026, month, 5, 7, 0);

            var parsed = ParsedCalendar.Read(CalendarWriter.Write(new(), [At(zone, at)]), at);

            Assert.Equal(at, Assert.Single(parsed.Events).At("DTSTART"));
            Assert.Equal([zone.GetUtcOffset(at).Seconds], parsed.Offsets["Europe/Lisbon"]);
        }
    }

    [Fact]
    public void A_zone_is_described_from_the_observance_in_force_to_the_last_one_used()
    {
        var lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];

        var text = Written(
            At(lisbon, Instant.FromUtc(2026, 1, 8, 7, 0)), At(lisbon, Instant.FromUtc(2027, 7, 1, 6, 0)));

        Assert.Contains(
            """
            BEGIN:VTIMEZONE
            TZID:Europe/Lisbon
            BEGIN:STANDARD
            DTSTART:20251026T020000
            RDATE:20261025T020000
            TZNAME:WET
            TZOFFSETFROM:+0100
            TZOFFSETTO:+0000
            END:STANDARD
            BEGIN:DAYLIGHT
            DTSTART:20260329T010000
            RDATE:20270328T010000
            TZNAME:WEST
            TZOFFSETFROM:+0000
            TZOFFSETTO:+0100
            END:DAYLIGHT
            END:VTIMEZONE

            """,
            text,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_zone_without_changes_has_one_observance() => Assert.Contains(
        """
        TZID:Asia/Kolkata
        BEGIN:STANDARD
        DTSTART:19700101T053000
        TZNAME:IST
        TZOFFSETFROM:+0530
        TZOFFSETTO:+0530
        END:STANDARD
        END:VTIMEZONE

        """,
        Written(At(DateTimeZoneProviders.Tzdb["Asia/Kolkata"], From)),
        StringComparison.Ordinal);

    [Fact]
    public void Seconds_of_an_offset_are_written_where_there_are_any() => Assert.Contains(
        "TZOFFSETTO:-004430\n",
        Written(At(DateTimeZoneProviders.Tzdb["Africa/Monrovia"], Instant.FromUtc(1971, 1, 1, 0, 0))),
        StringComparison.Ordinal);

    [Theory]
    [InlineData("Etc/UTC")]
    [InlineData("UTC")]
    public void Times_of_UTC_need_no_zone(string id)
    {
        var text = Written(At(DateTimeZoneProviders.Tzdb[id], From));

        Assert.DoesNotContain("VTIMEZONE", text, StringComparison.Ordinal);
        Assert.Contains("DTSTART:20200101T000000Z\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_second_pass_of_a_repeated_hour_is_told_in_UTC()
    {
        var lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
        var first = Instant.FromUtc(2026, 10, 25, 0, 30);

        var text = Written(At(lisbon, first), At(lisbon, first + Duration.FromHours(1)));

        Assert.Contains("DTSTART;TZID=Europe/Lisbon:20261025T013000\n", text, StringComparison.Ordinal);
        Assert.Contains("DTSTART:20261025T013000Z\n", text, StringComparison.Ordinal);
    }

    private static string Written(params CalendarEntry[] entries) =>
        Encoding.UTF8.GetString(CalendarWriter.Write(new(), entries)).Replace("\r\n", "\n");

    private static EventEntry At(DateTimeZone zone, Instant at) =>
        new($"{at.ToUnixTimeSeconds()}@example.com", From, "No. 12", new CalendarMoment(at, zone));

    /// <summary>Three days to either side of each change: every hour, and the last second before it.</summary>
    private static IEnumerable<Instant> Around(DateTimeZone zone) =>
        from interval in zone.GetZoneIntervals(From, Until)
        where interval.HasStart && interval.Start > From
        from seconds in Enumerable.Range(-72, 145).Select(hour => hour * 3600L).Append(-1)
        let at = interval.Start + Duration.FromSeconds(seconds)
        where at >= From && at <= Until
        select at;

    /// <summary>Spread over the range by a prime number of seconds, so that every hour and weekday is met.</summary>
    private static IEnumerable<Instant> Spread() =>
        Enumerable.Range(0, 1000).Select(i => From + Duration.FromSeconds(i * 346_943L));
}
