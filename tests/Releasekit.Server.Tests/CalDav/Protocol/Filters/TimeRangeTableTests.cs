using Ical.Net.DataTypes;

namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>
/// The tables of RFC 4791 section 9.9, row by row, at their edges. A range of one day, from 10 to 11 March 2026 UTC;
/// a vertical line parts the properties.
/// </summary>
public class TimeRangeTableTests
{
    private const string Start = "20260310T000000Z";
    private const string End = "20260311T000000Z";

    [Theory]
    // Row 1, DTEND: start < DTEND and end > DTSTART.
    [InlineData("DTSTART:20260309T220000Z|DTEND:20260310T000000Z", false)]
    [InlineData("DTSTART:20260309T220000Z|DTEND:20260310T000001Z", true)]
    [InlineData("DTSTART:20260310T235959Z|DTEND:20260312T000000Z", true)]
    [InlineData("DTSTART:20260311T000000Z|DTEND:20260312T000000Z", false)]
    [InlineData("DTSTART:20260301T000000Z|DTEND:20260401T000000Z", true)]
    // Row 2, DURATION above 0: start < DTSTART+DURATION and end > DTSTART.
    [InlineData("DTSTART:20260309T230000Z|DURATION:PT1H", false)]
    [InlineData("DTSTART:20260309T230000Z|DURATION:PT1H1S", true)]
    [InlineData("DTSTART:20260311T000000Z|DURATION:PT1H", false)]
    // Row 3, DURATION of 0: start <= DTSTART and end > DTSTART.
    [InlineData("DTSTART:20260310T000000Z|DURATION:PT0S", true)]
    [InlineData("DTSTART:20260309T235959Z|DURATION:PT0S", false)]
    [InlineData("DTSTART:20260311T000000Z|DURATION:PT0S", false)]
    // Row 4, a time alone: start <= DTSTART and end > DTSTART.
    [InlineData("DTSTART:20260310T000000Z", true)]
    [InlineData("DTSTART:20260309T235959Z", false)]
    [InlineData("DTSTART:20260311T000000Z", false)]
    // Row 5, a day alone: start < DTSTART+P1D and end > DTSTART.
    [InlineData("DTSTART;VALUE=DATE:20260310", true)]
    [InlineData("DTSTART;VALUE=DATE:20260309", false)]
    [InlineData("DTSTART;VALUE=DATE:20260311", false)]
    public void An_event_overlaps_as_its_row_says(string properties, bool overlaps) =>
        Assert.Equal(overlaps, Asked("VEVENT", properties));

    [Theory]
    // Row 1, DTSTART and DURATION: start <= DTSTART+DURATION and (end > DTSTART or end >= DTSTART+DURATION).
    [InlineData("DTSTART:20260309T220000Z|DURATION:PT2H", true)]
    [InlineData("DTSTART:20260309T220000Z|DURATION:PT1H59M59S", false)]
    [InlineData("DTSTART:20260311T000000Z|DURATION:PT0S", true)]
    [InlineData("DTSTART:20260311T000000Z|DURATION:PT1H", false)]
    // Row 2, DTSTART and DUE: (start < DUE or start <= DTSTART) and (end > DTSTART or end >= DUE).
    [InlineData("DTSTART:20260309T220000Z|DUE:20260310T000000Z", false)]
    [InlineData("DTSTART:20260309T220000Z|DUE:20260310T000001Z", true)]
    [InlineData("DTSTART:20260310T000000Z|DUE:20260310T000000Z", true)]
    [InlineData("DTSTART:20260311T000000Z|DUE:20260311T000000Z", true)]
    [InlineData("DTSTART:20260311T000000Z|DUE:20260312T000000Z", false)]
    // Row 3, DTSTART alone: start <= DTSTART and end > DTSTART.
    [InlineData("DTSTART:20260310T000000Z", true)]
    [InlineData("DTSTART:20260311T000000Z", false)]
    // Row 4, DUE alone: start < DUE and end >= DUE. What else is there does not count.
    [InlineData("DUE:20260310T000000Z", false)]
    [InlineData("DUE:20260310T000001Z", true)]
    [InlineData("DUE:20260311T000000Z|CREATED:20250101T000000Z|COMPLETED:20250102T000000Z", true)]
    [InlineData("DUE:20260311T000001Z|CREATED:20260310T000000Z", false)]
    // Row 5, COMPLETED and CREATED: one of them at or after the start, one at or before the end.
    [InlineData("CREATED:20260301T000000Z|COMPLETED:20260309T235959Z", false)]
    [InlineData("CREATED:20260301T000000Z|COMPLETED:20260310T000000Z", true)]
    [InlineData("CREATED:20260311T000000Z|COMPLETED:20260320T000000Z", true)]
    [InlineData("CREATED:20260311T000001Z|COMPLETED:20260320T000000Z", false)]
    // Row 6, COMPLETED alone: start <= COMPLETED and end >= COMPLETED.
    [InlineData("COMPLETED:20260310T000000Z", true)]
    [InlineData("COMPLETED:20260311T000000Z", true)]
    [InlineData("COMPLETED:20260311T000001Z", false)]
    // Row 7, CREATED alone: end > CREATED.
    [InlineData("CREATED:20200101T000000Z", true)]
    [InlineData("CREATED:20260311T000000Z", false)]
    // Row 8, none of them.
    [InlineData("SUMMARY:Order the paper", true)]
    public void A_to_do_overlaps_as_its_row_says(string properties, bool overlaps) =>
        Assert.Equal(overlaps, Asked("VTODO", properties));

    [Theory]
    [InlineData("DTSTART:20260310T000000Z", true)]
    [InlineData("DTSTART:20260309T235959Z", false)]
    [InlineData("DTSTART;VALUE=DATE:20260310", true)]
    [InlineData("DTSTART;VALUE=DATE:20260311", false)]
    [InlineData("SUMMARY:No date", false)]
    public void A_journal_entry_overlaps_as_its_row_says(string properties, bool overlaps) =>
        Assert.Equal(overlaps, Asked("VJOURNAL", properties));

    [Theory]
    [InlineData("DTSTART:20260301T000000Z|DTEND:20260310T000000Z", true)]
    [InlineData("DTSTART:20260301T000000Z|DTEND:20260309T235959Z", false)]
    [InlineData("DTSTART:20260311T000000Z|DTEND:20260312T000000Z", false)]
    [InlineData("SUMMARY:Neither", false)]
    public void Free_and_busy_times_overlap_as_their_row_says(string properties, bool overlaps) =>
        Assert.Equal(overlaps, Asked("VFREEBUSY", properties));

    [Theory]
    [InlineData("20260310T090000Z", "20260310T100000Z", false)]
    [InlineData("20260310T230000Z", "20260311T010000Z", true)]
    public void A_busy_period_counts_without_dates_of_the_whole(string from, string to, bool overlaps)
    {
        // The calendar library reads no FREEBUSY line, so this one is put together.
        var calendar = Query.Calendar(Query.Component("VFREEBUSY", "SUMMARY:Studio"));
        var period = new Ical.Net.DataTypes.Period(new CalDateTime(from), new CalDateTime(to));
        calendar.FreeBusy[0]!.Entries.Add(new(period, Ical.Net.FreeBusyStatus.Busy));

        Assert.Equal(
            overlaps,
            Query.InRange("VFREEBUSY", "20260310T100000Z", "20260311T000000Z").Matches(calendar, DateTimeZone.Utc));
    }

    [Fact]
    public void A_day_and_a_floating_time_are_read_in_the_zone_that_is_given()
    {
        // 10 March in Brussels begins at 23:00 UTC on the 9th.
        var lastHour = Query.InRange("VEVENT", "20260310T230000Z", "20260311T000000Z");
        var day = Query.Component("VEVENT", "DTSTART;VALUE=DATE:20260310");
        var floating = Query.Component("VEVENT", "DTSTART:20260311T003000");

        Assert.True(lastHour.Matches(day, DateTimeZone.Utc));
        Assert.False(lastHour.Matches(day, Query.Brussels));
        Assert.False(lastHour.Matches(floating, DateTimeZone.Utc));
        Assert.True(lastHour.Matches(floating, Query.Brussels));
    }

    [Theory]
    [InlineData(null, Start, false)]
    [InlineData(null, "20260310T000001Z", true)]
    [InlineData(Start, null, true)]
    [InlineData("20260310T000001Z", null, false)]
    public void A_side_may_be_open(string? start, string? end, bool overlaps) => Assert.Equal(
        overlaps,
        Query.InRange("VEVENT", start, end).Matches(Query.Component("VEVENT", "DTSTART:20260310T000000Z")));

    private static bool Asked(string component, string properties) =>
        Query.InRange(component, Start, End).Matches(Query.Component(component, properties));
}
