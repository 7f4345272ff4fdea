using System.Diagnostics;

namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>
/// "Time range tests MUST consider every recurrence instance" (RFC 4791 section 9.9). The instances are those of
/// RFC 5545 sections 3.8.4.4 and 3.8.5, counted by hand. A Thursday issue, 9 o'clock in Brussels; summer time there
/// begins on 29 March 2026, so that it is 08:00 UTC before and 07:00 UTC after.
/// </summary>
public class RecurrenceRangeTests
{
    private const string Weekly =
        "DTSTART;TZID=Europe/Brussels:20260305T090000|DURATION:PT1H|RRULE:FREQ=WEEKLY;BYDAY=TH";

    private const string DayLong = "DTSTART:20260305T120000Z|DUE:20260306T120000Z|RRULE:FREQ=WEEKLY";

    [Theory]
    [InlineData("20260326T080000Z", "20260326T090000Z", true)]
    [InlineData("20260326T070000Z", "20260326T080000Z", false)]
    [InlineData("20260402T070000Z", "20260402T080000Z", true)]
    [InlineData("20260402T080000Z", "20260402T090000Z", false)]
    [InlineData("20260403T000000Z", "20260409T070000Z", false)]
    [InlineData("20460101T000000Z", "20460108T000000Z", true)]
    [InlineData("20260101T000000Z", "20260305T080000Z", false)]
    public void A_rule_keeps_the_time_on_the_wall(string start, string end, bool overlaps) =>
        Assert.Equal(overlaps, Asked(Weekly, start, end));

    [Theory]
    [InlineData("RRULE:FREQ=WEEKLY;COUNT=3", "20260319", true)]
    [InlineData("RRULE:FREQ=WEEKLY;COUNT=3", "20260326", false)]
    [InlineData("RRULE:FREQ=WEEKLY;UNTIL=20260319T080000Z", "20260319", true)]
    [InlineData("RRULE:FREQ=WEEKLY;UNTIL=20260319T075959Z", "20260319", false)]
    [InlineData("RRULE:FREQ=MONTHLY;BYDAY=-1TH", "20260326", true)]
    [InlineData("RRULE:FREQ=MONTHLY;BYDAY=-1TH", "20260305", true)]
    [InlineData("RRULE:FREQ=MONTHLY;BYDAY=-1TH", "20260312", false)]
    [InlineData("RRULE:FREQ=WEEKLY|EXDATE;TZID=Europe/Brussels:20260312T090000", "20260312", false)]
    [InlineData("RRULE:FREQ=WEEKLY|EXDATE:20260312T080000Z,20260319T080000Z", "20260319", false)]
    [InlineData("RRULE:FREQ=WEEKLY|EXDATE;VALUE=DATE:20260312", "20260312", false)]
    [InlineData("RRULE:FREQ=WEEKLY|EXDATE:20260312T080001Z", "20260312", true)]
    [InlineData("RDATE:20260313T120000Z,20260317T120000Z", "20260317", true)]
    [InlineData("RDATE;VALUE=PERIOD:20260313T120000Z/P2D", "20260315", true)]
    [InlineData("RDATE;VALUE=PERIOD:20260313T120000Z/20260314T120000Z", "20260315", false)]
    [InlineData("RDATE:20260313T120000Z|EXDATE:20260313T120000Z", "20260313", false)]
    [InlineData("RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "20270301", false)]
    public void Rules_dates_and_exceptions_make_the_instances(string recurrence, string day, bool overlaps)
    {
        const string Once = "DTSTART;TZID=Europe/Brussels:20260305T090000|DURATION:PT1H";

        Assert.Equal(overlaps, Asked($"{Once}|{recurrence}", $"{day}T000000Z", $"{day}T235959Z"));
    }

    [Theory]
    // The issue of 12 March has moved to the 13th, and was made to last until the 15th.
    [InlineData("20260312T000000Z", "20260312T235959Z", false)]
    [InlineData("20260314T000000Z", "20260314T235959Z", true)]
    [InlineData("20260319T000000Z", "20260319T235959Z", true)]
    public void A_changed_instance_counts_where_it_has_gone(string start, string end, bool overlaps)
    {
        var series = Query.Component("VEVENT", Weekly) + "\n" + Query.Component("VEVENT",
            "RECURRENCE-ID;TZID=Europe/Brussels:20260312T090000|DTSTART:20260313T080000Z|DTEND:20260315T080000Z");

        Assert.Equal(overlaps, Query.InRange("VEVENT", start, end).Matches(series));
    }

    [Theory]
    // From 19 March on it is Fridays at 14:00 for two hours, but for 2 April, which is the 1st; from 23 April on it is
    // Wednesdays at 10:00.
    [InlineData("20260312T080000Z", "20260312T090000Z", true)]
    [InlineData("20260319T000000Z", "20260319T235959Z", false)]
    [InlineData("20260320T130000Z", "20260320T140000Z", true)]
    [InlineData("20260327T140000Z", "20260327T150000Z", true)]
    [InlineData("20260326T000000Z", "20260326T235959Z", false)]
    [InlineData("20260401T000000Z", "20260401T235959Z", true)]
    [InlineData("20260403T000000Z", "20260403T235959Z", false)]
    [InlineData("20260410T120000Z", "20260410T140000Z", true)]
    [InlineData("20260424T000000Z", "20260424T235959Z", false)]
    [InlineData("20260429T080000Z", "20260429T080001Z", true)]
    [InlineData("20260501T000000Z", "20260501T235959Z", false)]
    public void A_change_of_all_later_instances_moves_them(string start, string end, bool overlaps)
    {
        var series = string.Join('\n',
            Query.Component("VEVENT", Weekly),
            Query.Component("VEVENT", "RECURRENCE-ID;RANGE=THISANDFUTURE;TZID=Europe/Brussels:20260319T090000|"
                + "DTSTART;TZID=Europe/Brussels:20260320T140000|DURATION:PT2H"),
            Query.Component("VEVENT", "RECURRENCE-ID;TZID=Europe/Brussels:20260402T090000|DTSTART:20260401T080000Z"),
            Query.Component("VEVENT", "RECURRENCE-ID;RANGE=THISANDFUTURE;TZID=Europe/Brussels:20260423T090000|"
                + "DTSTART;TZID=Europe/Brussels:20260422T100000"));

        Assert.Equal(overlaps, Query.InRange("VEVENT", start, end).Matches(series));
    }

    [Theory]
    [InlineData("DUE:20260306T120000Z|RRULE:FREQ=WEEKLY", "20260313T115959Z", "20260313T120000Z", true)]
    [InlineData("DUE:20260306T120000Z|RRULE:FREQ=WEEKLY", "20260313T120000Z", "20260320T115959Z", false)]
    [InlineData(DayLong, "20260313T000000Z", "20260313T010000Z", true)]
    [InlineData(DayLong, "20260314T000000Z", "20260319T120000Z", false)]
    public void A_to_do_may_recur(string properties, string start, string end, bool overlaps) => Assert.Equal(
        overlaps, Query.InRange("VTODO", start, end).Matches(Query.Component("VTODO", properties)));

    [Theory]
    // Around the changes of the clocks. 25 October: 02:30 comes twice, the first counts (00:30 UTC). 29 March: there is
    // no 02:30; read with the offset before the gap, it is 01:30 UTC (RFC 5545 section 3.3.5).
    [InlineData("20261025T003000Z", "20261025T003001Z", true)]
    [InlineData("20261025T013000Z", "20261025T013001Z", false)]
    [InlineData("20270328T013000Z", "20270328T013001Z", true)]
    public void A_time_that_is_repeated_or_skipped_is_read_as_the_standard_says(
        string start, string end, bool overlaps) => Assert.Equal(
            overlaps, Asked("DTSTART;TZID=Europe/Brussels:20260305T023000|RRULE:FREQ=DAILY", start, end));

    [Theory]
    [InlineData("DURATION:P1D", "20260329T063000Z", true)]
    [InlineData("DURATION:P1D", "20260329T070000Z", false)]
    [InlineData("DURATION:PT24H", "20260329T070000Z", true)]
    public void A_day_is_one_on_the_wall_and_24_hours_are_24_hours(string duration, string start, bool overlaps) =>
        Assert.Equal(
            overlaps,
            Asked($"DTSTART;TZID=Europe/Brussels:20260328T090000|{duration}", start, "20260329T200000Z"));

    [Theory]
    [InlineData("RRULE:FREQ=SECONDLY")]
    [InlineData("RRULE:FREQ=SECONDLY;BYMONTH=2")]
    [InlineData("RRULE:FREQ=HOURLY")]
    [InlineData("RRULE:FREQ=DAILY;COUNT=2000000000")]
    [InlineData("RRULE:FREQ=YEARLY;BYHOUR=0,1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,17,18,19,20,21,22,23;"
        + "BYMINUTE=0,1,2,3,4,5,6,7,8,9;BYSECOND=0,1,2,3,4,5,6,7,8,9;BYDAY=MO,TU,WE,TH,FR,SA,SU;BYSETPOS=-1")]
    public void A_rule_too_long_to_look_through_overlaps_rather_than_hides_and_takes_no_time(string rule)
    {
        var properties = $"DTSTART;TZID=Europe/Brussels:19900301T090000|{rule}";
        var watch = Stopwatch.StartNew();

        Assert.True(Asked(properties, "20260310T000000Z", "20260310T000001Z"));
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(5));
    }

    [Theory]
    [InlineData("DTSTART;TZID=America/New_York:99991231T235959")]
    [InlineData("DTSTART:20260310T000000Z|DURATION:P999999999W")]
    [InlineData("DTSTART:20260310T000000Z|DTEND:00010101T000000Z|RRULE:FREQ=YEARLY;INTERVAL=2147483647")]
    [InlineData("DTSTART:garbage|DURATION:xx|RRULE:FREQ=DAILY")]
    public void Absurd_dates_are_answered_too(string properties) =>
        Assert.False(Asked(properties, "19700101T000000Z", "19700102T000000Z"));

    private static bool Asked(string properties, string start, string end) =>
        Query.InRange("VEVENT", start, end).Matches(Query.Component("VEVENT", properties));
}
