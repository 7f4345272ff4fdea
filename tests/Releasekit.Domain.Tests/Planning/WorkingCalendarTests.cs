using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;

namespace Releasekit.Domain.Tests.Planning;

public sealed class WorkingCalendarTests
{
    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
    private static readonly DateTimeZone Apia = DateTimeZoneProviders.Tzdb["Pacific/Apia"];

    private static readonly WorkingCalendar Office = new(Publisher.UsualWeek, [], [], DateTimeZone.Utc);
    private static readonly WorkingCalendar Never = new([], [], [], DateTimeZone.Utc);

    private static readonly Instant Friday16 = Instant.FromUtc(2024, 5, 3, 16, 0);
    private static readonly Instant Friday17 = Instant.FromUtc(2024, 5, 3, 17, 0);
    private static readonly Instant Sunday = Instant.FromUtc(2024, 5, 5, 12, 0);
    private static readonly Instant Monday9 = Instant.FromUtc(2024, 5, 6, 9, 0);

    [Fact]
    public void Work_that_ends_with_the_week_finishes_on_friday_and_not_on_monday()
    {
        Assert.Equal(Friday17, Office.Add(Friday16, Duration.FromHours(1)));
        Assert.Equal(Monday9 + Duration.Epsilon, Office.Add(Friday16, Duration.FromHours(1) + Duration.Epsilon));
    }

    [Fact]
    public void Work_that_must_end_with_the_night_begins_as_late_as_it_can()
    {
        Assert.Equal(Friday16, Office.Subtract(Sunday, Duration.FromHours(1)));
        Assert.Equal(Monday9, Office.Subtract(Monday9 + Duration.FromHours(3), Duration.FromHours(3)));
    }

    [Fact]
    public void A_start_is_the_next_working_instant_and_a_finish_the_one_before()
    {
        Assert.Equal(Monday9, Office.NextWorkingInstant(Friday17));
        Assert.Equal(Monday9, Office.NextWorkingInstant(Monday9));
        Assert.Equal(Friday17, Office.PreviousWorkingInstant(Monday9));
        Assert.Equal(Friday17, Office.PreviousWorkingInstant(Friday17));
    }

    [Fact]
    public void Nothing_to_do_is_done_at_once()
    {
        Assert.Equal(Sunday, Office.Add(Sunday, Duration.Zero));
        Assert.Equal(Sunday, Office.Subtract(Sunday, Duration.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => Office.Add(Sunday, -Duration.Epsilon));
        Assert.Throws<ArgumentOutOfRangeException>(() => Office.Subtract(Sunday, -Duration.Epsilon));
    }

    [Fact]
    public void Years_are_crossed()
    {
        var start = Instant.FromUtc(2024, 1, 1, 0, 0);

        var end = Instant.FromUtc(2034, 1, 1, 0, 0);
        var work = Duration.FromHours(Weekdays(2024, 2033) * 8);

        Assert.Equal(work, Office.Between(start, end));
        Assert.Equal(-work, Office.Between(end, start));
        Assert.Equal(Instant.FromUtc(2033, 12, 30, 17, 0), Office.Add(start, work));
        Assert.Equal(start + Duration.FromHours(9), Office.Subtract(end, work));
    }

    [Fact]
    public void A_calendar_without_working_time_answers_null_and_does_not_hang()
    {
        Assert.Null(Never.Add(Sunday, Duration.Epsilon));
        Assert.Null(Never.Subtract(Sunday, Duration.Epsilon));
        Assert.Null(Never.NextWorkingInstant(Sunday));
        Assert.Null(Never.PreviousWorkingInstant(Sunday));
        Assert.Equal(Duration.Zero, Never.Between(Sunday, Sunday + Duration.FromDays(900)));
        Assert.Equal(Duration.Zero, Never.WeeklyHours);
    }

    [Fact]
    public void A_diary_busy_for_ever_answers_null()
    {
        var busy = new WorkingCalendar(Publisher.UsualWeek, [], [new Interval(Sunday, null)], DateTimeZone.Utc);

        Assert.Null(busy.Add(Sunday, Duration.Epsilon));
        Assert.Equal(Friday17, busy.PreviousWorkingInstant(Instant.FromUtc(2030, 1, 1, 0, 0)));
    }

    [Fact]
    public void What_lies_beyond_the_years_searched_is_answered_by_null()
    {
        Assert.Null(Office.Between(Sunday, Instant.FromUtc(2045, 1, 1, 0, 1)));
        Assert.NotNull(Office.Between(Sunday, Instant.FromUtc(2044, 12, 31, 0, 0)));
        Assert.Null(Office.Add(Sunday, Duration.FromHours(8 * 262 * 22)));
        Assert.Null(Office.NextWorkingInstant(Instant.MaxValue));
        Assert.Null(Office.PreviousWorkingInstant(Instant.MinValue));
    }

    [Fact]
    public void A_window_is_as_long_as_its_night()
    {
        var nights = new WorkingCalendar(
            Everyday(new LocalTime(0, 0), new LocalTime(4, 0)), [], [], Lisbon);

        Assert.Equal(Duration.FromHours(3), Worked(nights, new LocalDate(2024, 3, 31), Lisbon));
        Assert.Equal(Duration.FromHours(4), Worked(nights, new LocalDate(2024, 4, 1), Lisbon));
        Assert.Equal(Duration.FromHours(5), Worked(nights, new LocalDate(2024, 10, 27), Lisbon));
    }

    [Fact]
    public void Hours_inside_the_gap_are_shifted_and_not_counted_twice()
    {
        var split = new WorkingCalendar(
            [
                .. Everyday(new LocalTime(1, 15), new LocalTime(1, 45)),
                .. Everyday(new LocalTime(2, 0), new LocalTime(3, 0)),
            ], [], [], Lisbon);

        Assert.Equal(Duration.FromHours(1), Worked(split, new LocalDate(2024, 3, 31), Lisbon));
        Assert.Equal(Duration.FromMinutes(90), Worked(split, new LocalDate(2024, 4, 1), Lisbon));
    }

    [Fact]
    public void The_day_samoa_left_out_is_not_worked_twice()
    {
        var always = new WorkingCalendar(Everyday(new LocalTime(9, 0), new LocalTime(17, 0)), [], [], Apia);

        Assert.Equal(Duration.FromHours(16), always.Between(
            Apia.AtStartOfDay(new LocalDate(2011, 12, 29)).ToInstant(),
            Apia.AtStartOfDay(new LocalDate(2012, 1, 1)).ToInstant()));
    }

    [Fact]
    public void An_end_at_midnight_is_the_end_of_the_day()
    {
        var round = new WorkingCalendar(Everyday(LocalTime.Midnight, LocalTime.Midnight), [], [], DateTimeZone.Utc);

        Assert.Equal(Duration.FromDays(7), round.WeeklyHours);
        Assert.Equal(Sunday + Duration.FromDays(1000), round.Add(Sunday, Duration.FromDays(1000)));
        Assert.Single(round.Stretches(Sunday, Sunday + Duration.FromDays(1000)));
    }

    private static Duration? Worked(WorkingCalendar calendar, LocalDate date, DateTimeZone zone) => calendar.Between(
        zone.AtStartOfDay(date).ToInstant(), zone.AtStartOfDay(date.PlusDays(1)).ToInstant());

    private static int Weekdays(int firstYear, int lastYear)
    {
        var first = new LocalDate(firstYear, 1, 1);
        return Enumerable.Range(0, Period.DaysBetween(first, new LocalDate(lastYear + 1, 1, 1)))
            .Count(day => first.PlusDays(day).DayOfWeek <= IsoDayOfWeek.Friday);
    }

    private static IEnumerable<WorkingHours> Everyday(LocalTime from, LocalTime to) =>
        Enumerable.Range(1, 7).Select(day => new WorkingHours((IsoDayOfWeek)day, from, to));
}
