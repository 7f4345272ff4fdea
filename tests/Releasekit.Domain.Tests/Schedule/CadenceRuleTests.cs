using System.Globalization;
using NodaTime.Text;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class CadenceRuleTests
{
    private static readonly LocalDateTimePattern Minutes =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "a.rrule.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_rule_yields_the_published_dates_and_instants(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var start = Minutes.Parse(check.Inputs.Text("dtstart")).Value;
        var zone = LocalTimes.FindZone(check.Inputs.Text("tz"))!;
        var excepted = check.Inputs.Strings("exdate").Select(text => Minutes.Parse(text).Value.Date).ToHashSet();
        var rule = Rule(check.Inputs.Text("rrule"), start.Date);

        LocalDateTime[] slots =
        [
            .. rule.Between(start.Date, new LocalDate(2030, 1, 1))
                .Where(date => !excepted.Contains(date))
                .Take(check.Inputs.GetProperty("take").GetInt32())
                .Select(date => date + start.TimeOfDay),
        ];

        Assert.Equal(check.Expected.Strings("local"), slots.Select(Minutes.Format));
        Assert.Equal(check.Expected.Strings("utc"), slots.Select(slot => LocalTimes.ToInstant(slot, zone)
            .ToString("uuuu-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture)));
    }

    [Theory]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "2026-01-01", "2026-01-01 2026-01-08 2026-01-15")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH;COUNT=2", "2026-01-03", "2026-01-08 2026-01-15")]
    [InlineData("freq=weekly;byday=th;until=20260115", "2026-01-01", "2026-01-01 2026-01-08 2026-01-15")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH;UNTIL=20260115T000000Z", "2026-01-01", "2026-01-01 2026-01-08 2026-01-15")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH;UNTIL=20260115T235959", "2026-01-01", "2026-01-01 2026-01-08 2026-01-15")]
    [InlineData("FREQ=MONTHLY;BYDAY=+1FR;COUNT=2", "2026-01-01", "2026-01-02 2026-02-06")]
    [InlineData("COUNT=3;FREQ=DAILY", "2026-02-27", "2026-02-27 2026-02-28 2026-03-01")]
    public void The_first_slot_is_the_first_date_that_matches(string rrule, string start, string expected)
    {
        var rule = Rule(rrule, LocalDatePattern.Iso.Parse(start).Value);

        var dates = rule.Between(rule.Start, rule.Start.PlusYears(1)).Take(3).Select(LocalDatePattern.Iso.Format);

        Assert.Equal(expected, string.Join(' ', dates));
        Assert.Equal(rrule, rule.Text);
    }

    [Fact]
    public void A_window_includes_its_first_day_and_excludes_its_last()
    {
        var rule = Rule("FREQ=WEEKLY;BYDAY=TH", new LocalDate(2026, 1, 1));

        Assert.Equal([new(2026, 1, 8)], rule.Between(new(2026, 1, 8), new(2026, 1, 15)));
        Assert.Empty(rule.Between(new(2026, 1, 8), new(2026, 1, 8)));
        Assert.Empty(rule.Between(new(2025, 1, 1), new(2026, 1, 1)));
    }

    [Fact]
    public void Neighbours_are_strictly_later_and_strictly_earlier()
    {
        var rule = Rule("FREQ=WEEKLY;BYDAY=TH;COUNT=2", new LocalDate(2026, 1, 1));

        Assert.Equal(new LocalDate(2026, 1, 8), rule.After(new(2026, 1, 1)));
        Assert.Equal(new LocalDate(2026, 1, 1), rule.Before(new(2026, 1, 8)));
        Assert.Equal(new LocalDate(2026, 1, 8), rule.Before(new(2199, 1, 1)));
        Assert.Null(rule.After(new(2026, 1, 8)));
        Assert.Null(rule.Before(new(2026, 1, 1)));
        Assert.True(rule.Contains(new(2026, 1, 8)));
        Assert.False(rule.Contains(new(2026, 1, 9)));
    }

    [Theory]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", 7)]
    [InlineData("FREQ=WEEKLY;BYDAY=MO,TH", 3)]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=1", 28)]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=1,-1", 1)]
    [InlineData("FREQ=YEARLY", 365)]
    [InlineData("FREQ=DAILY;COUNT=1", null)]
    public void The_shortest_gap_is_counted_in_days(string rrule, int? expected) =>
        Assert.Equal(expected, Rule(rrule, new LocalDate(2026, 1, 1)).ShortestGapDays);

    [Fact]
    public void A_rule_ends_with_the_year_2199_or_after_twenty_thousand_dates()
    {
        Assert.Equal(2199, Rule("FREQ=MONTHLY", new LocalDate(2026, 1, 1)).Before(LocalDate.MaxIsoValue)!.Value.Year);
        Assert.Equal(20_000, Rule("FREQ=DAILY", new LocalDate(2026, 1, 1))
            .Between(LocalDate.MinIsoValue, LocalDate.MaxIsoValue).Count);
    }

    [Fact]
    public void A_29_February_on_a_Monday_is_waited_for()
    {
        var rule = Rule("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=29;BYDAY=MO", new LocalDate(2026, 1, 1));

        Assert.Equal([2044, 2072, 2112], rule.Between(rule.Start, new(2120, 1, 1)).Select(date => date.Year));
    }

    private static CadenceRule Rule(string rrule, LocalDate start)
    {
        var rule = CadenceRule.TryParse(rrule, start, out var refusal);
        Assert.Null(refusal);
        return rule!;
    }
}
