using System.Diagnostics;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class CadenceRuleSpeedTests
{
    private static readonly LocalDate Start = new(2020, 1, 2);

    [Fact]
    public void Asking_again_for_ten_years_of_weeks_costs_microseconds()
    {
        var asked = 0;
        var quickest = Enumerable.Range(0, 20).Min(_ =>
        {
            var watch = Stopwatch.StartNew();
            for (var i = 0; i < 1000; i++)
            {
                var rule = CadenceRule.TryParse("FREQ=WEEKLY;BYDAY=TH", Start, out var _);
                asked += rule!.Between(Start, Start.PlusYears(10)).Count;
            }

            return watch.Elapsed.TotalMicroseconds / 1000;
        });

        Assert.Equal(522 * 20_000, asked);
        Assert.InRange(quickest, 0, 20);
    }

    [Fact]
    public void Many_threads_see_the_same_dates() => Parallel.For(0, 64, index =>
    {
        var rule = CadenceRule.TryParse("FREQ=DAILY;INTERVAL=3", Start, out _)!;
        var day = Start.PlusDays(index * 90);

        Assert.Equal(30, rule.Between(day, day.PlusDays(90)).Count);
    });

    [Fact]
    public void More_rules_than_are_remembered_are_still_answered()
    {
        for (var day = 0; day < 1200; day++)
        {
            var start = Start.PlusDays(day);
            Assert.Equal(start.PlusDays(7), CadenceRule.TryParse("FREQ=WEEKLY", start, out _)!.After(start));
        }
    }
}
