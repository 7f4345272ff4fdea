using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Work;

/// <summary>Tasks that come again are made ahead, each once.</summary>
public sealed class RecurrenceTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 1, 1, 12, 0);

    /// <summary>The quarterly example of RFC 5545's monthly rules (3.8.5.3), counted by hand.</summary>
    [Fact]
    public void A_quarterly_task_stands_a_year_ahead()
    {
        var recurrence = Recurring("FREQ=MONTHLY;INTERVAL=3", "2026-01");

        var periods = recurrence.Missing(new LocalDate(2026, 1, 15), out var madeUntil);

        Assert.Equal(["2026-01", "2026-04", "2026-07", "2026-10", "2027-01"], periods.Select(p => p.ToString()));
        Assert.Equal(new LocalDate(2027, 2, 1), madeUntil);
    }

    [Fact]
    public void A_rule_that_meets_a_week_twice_makes_one_task_of_it()
    {
        var recurrence = Recurring("FREQ=WEEKLY;INTERVAL=26;BYDAY=TU,TH", "2026-W02");

        var periods = recurrence.Missing(new LocalDate(2026, 1, 5), out _);

        Assert.Equal(["2026-W02", "2026-W28", "2027-W01"], periods.Select(p => p.ToString()));
    }

    [Fact]
    public void The_first_task_is_made_however_far_it_lies()
    {
        var recurrence = Recurring("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", "2028-03-01");

        Assert.Equal(["2032-02-29"], recurrence.Missing(new LocalDate(2026, 1, 1), out _).Select(p => p.ToString()));
    }

    [Theory]
    [InlineData("FREQ=DAILY;INTERVAL=5", "2026-01-03")]
    [InlineData("FREQ=WEEKLY;BYDAY=SU", "2026-W01")]
    [InlineData("FREQ=MONTHLY;BYDAY=-1FR", "2026-W05")]
    [InlineData("FREQ=WEEKLY;BYDAY=MO,FR", "2026-01")]
    [InlineData("FREQ=DAILY;COUNT=40", "2026-02-01")]
    public void Going_on_day_by_day_makes_the_same_as_all_at_once(string rule, string when)
    {
        var start = new LocalDate(2026, 1, 1);
        var byDay = Recurring(rule, when);
        var made = new List<CalendarPeriod>();

        for (var day = 0; day < 500; day += 1 + (day % 7))
        {
            made.AddRange(byDay.Missing(start.PlusDays(day), out var until));
            byDay = byDay with { MadeUntil = until };
        }

        var atOnce = Recurring(rule, when) with { MadeUntil = CalendarPeriod.TryParse(when)!.Value.First };
        var all = atOnce.Missing(start.PlusDays(499), out _);

        Assert.Equal(all, made.TakeWhile(period => period.First < byDay.MadeUntil).Take(all.Count));
        Assert.Equal(made.Count, made.Distinct().Count());
        Assert.Equal(made.OrderBy(period => period.First), made);
    }

    [Fact]
    public void An_ended_recurrence_makes_nothing_more()
    {
        var recurrence = Recurring("FREQ=WEEKLY", "2026-W02") with { EndsBefore = new LocalDate(2026, 1, 19) };

        var periods = recurrence.Missing(new LocalDate(2026, 1, 5), out var until);
        var later = (recurrence with { MadeUntil = until }).Missing(new LocalDate(2027, 1, 5), out _);

        Assert.Equal(["2026-W02", "2026-W03"], periods.Select(p => p.ToString()));
        Assert.Empty(later);
    }

    private static Recurrence Recurring(string rule, string when) => Recurrence.Begin(
        Guid.NewGuid(), rule, new(Guid.NewGuid(), "Back up the recordings", CalendarPeriod.TryParse(when)!.Value, Now));
}
