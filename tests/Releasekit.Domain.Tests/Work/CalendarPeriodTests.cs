using System.Globalization;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Work;

/// <summary>Days, ISO weeks and months as a task names them.</summary>
public sealed class CalendarPeriodTests
{
    /// <summary>Weeks around the turn of a year: ISO 8601, 3.1.1.23 and its examples, from memory.</summary>
    [Theory]
    [InlineData("2008-12-29", "2009-W01")]
    [InlineData("2010-01-03", "2009-W53")]
    [InlineData("2021-01-03", "2020-W53")]
    [InlineData("2026-12-31", "2026-W53")]
    [InlineData("2027-01-04", "2027-W01")]
    public void A_week_belongs_to_the_year_of_its_Thursday(string date, string week)
    {
        var day = CalendarPeriod.TryParse(date)!.Value.First;

        Assert.Equal(week, CalendarPeriod.Holding(PeriodKind.Week, day).ToString());
    }

    /// <summary>Compared with the ISO weeks of .NET's own library (System.Globalization.ISOWeek).</summary>
    [Fact]
    public void Every_week_from_1970_to_2199_is_read_and_written_as_the_library_counts_it()
    {
        for (var day = new DateTime(1970, 1, 5); ISOWeek.GetYear(day) < 2200; day = day.AddDays(7))
        {
            var text = $"{ISOWeek.GetYear(day):0000}-W{ISOWeek.GetWeekOfYear(day):00}";

            var week = CalendarPeriod.TryParse(text);

            Assert.Equal(LocalDate.FromDateTime(day), week?.First);
            Assert.Equal(text, week.ToString());
            Assert.Equal(LocalDate.FromDateTime(day.AddDays(6)), week!.Value.Last);
        }
    }

    [Theory]
    [InlineData("2026-03-05", PeriodKind.Day, "2026-03-05")]
    [InlineData("2028-02", PeriodKind.Month, "2028-02-29")]
    public void Days_and_months_end_where_the_calendar_says(string text, PeriodKind kind, string last)
    {
        var period = CalendarPeriod.TryParse(text)!.Value;

        Assert.Equal((kind, last), (period.Kind, CalendarPeriod.Holding(PeriodKind.Day, period.Last).ToString()));
        Assert.Equal(text, period.ToString());
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("2026")]
    [InlineData("2026-W54")]
    [InlineData("2027-W53")]
    [InlineData("2026-W00")]
    [InlineData("2026-w10")]
    [InlineData("2026W10")]
    [InlineData("2026-W1 ")]
    [InlineData("+026-W10")]
    [InlineData("2026-13")]
    [InlineData("2026-02-30")]
    [InlineData("1969-12-31")]
    [InlineData("2200-01")]
    [InlineData("9999-W53")]
    public void Anything_else_is_none(string? text) => Assert.Null(CalendarPeriod.TryParse(text));

    [Theory]
    [InlineData("2026-03-05", "2026-03-05", 0)]
    [InlineData("2026-03-05", "2026-03-08", 3)]
    [InlineData("2026-W10", "2026-03-08", 0)]
    [InlineData("2026-W10", "2026-03-09", 1)]
    [InlineData("2026-W53", "2027-01-11", 2)]
    [InlineData("2026-03", "2026-03-31", 0)]
    [InlineData("2026-03", "2026-04-01", 1)]
    [InlineData("2026-11", "2027-02-28", 3)]
    [InlineData("2026-03", "2025-01-01", 0)]
    public void It_counts_how_often_it_was_carried_over(string period, string day, int ended)
    {
        var today = CalendarPeriod.TryParse(day)!.Value.First;

        Assert.Equal(ended, CalendarPeriod.TryParse(period)!.Value.EndedBy(today));
    }
}
