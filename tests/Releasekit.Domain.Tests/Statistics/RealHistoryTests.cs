using System.Globalization;
using System.Text.Json;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

/// <summary>Two real histories (Checks/README.md names their sources) against an independent program.</summary>
public sealed class RealHistoryTests
{
    public static TheoryData<string, string> Cases => CheckCase.Rows("adherence-real.json", "real.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_real_history_has_the_adherence_an_independent_program_found(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("adherence-real.json", id);
        var history = RealHistory.Read(check);
        foreach (var setting in check.Expected.GetProperty("by_tolerance").EnumerateObject())
        {
            var tolerance = Duration.FromHours(int.Parse(setting.Name.TrimEnd('h'), CultureInfo.InvariantCulture));
            var judged = SlotJudgement.Judge(history.Slots, history.Publications, tolerance, history.Now);

            var figures = Adherence.Summarise(judged, history.From, LocalDate.MaxIsoValue);

            AssertCounts(check, setting.Value, figures);
            AssertLateness(check, figures.LatenessHours);
            if (setting.Value.TryGetProperty("total_abs_deviation", out var deviation))
            {
                check.AssertNear(deviation, judged.Slots.Sum(slot => Math.Abs(slot.Lateness?.TotalDays ?? 0)));
            }
        }
    }

    [Fact]
    public void The_example_of_the_interface_page_comes_out()
    {
        var check = CheckCase.Find("adherence-real.json", "real.weekly-newsletter.linked.America/Los_Angeles");
        var history = RealHistory.Read(check);
        var judged = SlotJudgement.Judge(history.Slots, history.Publications, Duration.FromHours(24), history.Now);

        var figures = Adherence.Summarise(judged, new(2023, 1, 1), new(2026, 8, 22));

        // The page rounds to six digits.
        Assert.Equal((190, 190, 175, 15), (figures.Slots, figures.Due, figures.OnTime, figures.Late));
        Assert.Equal((0, 0), (figures.Missed, figures.Extra));
        Assert.Equal((17, 33), (figures.CurrentStreak, figures.LongestStreak));
        Assert.Equal(16.031667, figures.LatenessHours.P85!.Value, 6);
        Assert.Equal(159.743333, figures.LatenessHours.Max!.Value, 6);
        Assert.Equal((189, 190), (figures.Gaps.N, figures.Drift.N));
    }

    private static void AssertCounts(CheckCase check, JsonElement expected, AdherenceFigures figures)
    {
        int Count(string name) => expected.GetProperty(name).GetInt32();
        Assert.Equal(check.Expected.GetProperty("slots").GetInt32(), figures.Slots);
        Assert.Equal(
            (Count("on_time"), Count("late"), Count("missed"), Count("overdue"), Count("extra"), Count("due")),
            (figures.OnTime, figures.Late, figures.Missed, figures.Overdue, figures.Extra, figures.Due));
        Assert.Equal(
            (Count("current_streak"), Count("longest_streak")), (figures.CurrentStreak, figures.LongestStreak));
        check.AssertNear(expected.GetProperty("on_time_rate"), figures.OnTimeRate.Value);
        check.AssertNear(expected.GetProperty("wilson95")[0], figures.OnTimeRate.Low);
        check.AssertNear(expected.GetProperty("wilson95")[1], figures.OnTimeRate.High);
    }

    private static void AssertLateness(CheckCase check, LatenessFigures figures)
    {
        var expected = check.Expected.GetProperty("lateness_hours");
        Assert.Equal(expected.GetProperty("n").GetInt32(), figures.N);
        check.AssertNear(expected.GetProperty("min"), figures.Min);
        check.AssertNear(expected.GetProperty("p50"), figures.P50);
        check.AssertNear(expected.GetProperty("p85"), figures.P85);
        check.AssertNear(expected.GetProperty("p95"), figures.P95);
        check.AssertNear(expected.GetProperty("max"), figures.Max);
    }
}
