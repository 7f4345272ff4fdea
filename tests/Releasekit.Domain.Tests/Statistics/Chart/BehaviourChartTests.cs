using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Chart;
using static Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Chart;

public sealed class BehaviourChartTests
{
    public static TheoryData<string, string> Rules => CheckCase.Rows("statistics.json", "c.rules.");

    /// <summary>Wheeler and Chambers, four detection rules (list opened); Western Electric 1956.</summary>
    [Theory]
    [MemberData(nameof(Rules))]
    public void A_rule_reports_the_last_point_of_its_pattern(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);

        var signals = DetectionRules.Find(
            check.Inputs.Numbers("data"), check.Inputs.Number("mean"), check.Inputs.Number("sigma"));

        AssertSignals(check.Expected, signals);
    }

    /// <summary>Own numbers: limits of the first eight, frozen.</summary>
    [Fact]
    public void A_frozen_baseline_finds_the_long_one_and_shows_no_negative_limit()
    {
        var check = CheckCase.Find("statistics.json", "c.baseline_then_signal");
        var baseline = (int)check.Inputs.Number("baseline");

        var chart = BehaviourChart.Of(Points(check.Inputs.Numbers("data")), [], baseline);

        var phase = Assert.Single(chart.Phases);
        NaturalLimitsTests.AssertLimits(check, check.Expected.GetProperty("limits"), phase.Limits);
        Assert.Equal((8, true, 14), (phase.Baseline, phase.IsFrozen, phase.Count));
        AssertSignals(check.Expected.GetProperty("rules"), chart.Signals.Where(signal => !signal.IsRange));
        Assert.Equal([9, 10], chart.Signals.Where(signal => signal.IsRange).Select(signal => signal.Index));

        // The check writes 0 for "not shown"; a limit that is not there is null.
        Assert.Equal(0, check.Expected.Number("natural_lower_shown"));
        Assert.Null(phase.Limits.ShownLower(isDuration: true));
        Assert.Equal(phase.Limits.Lower, phase.Limits.ShownLower(isDuration: false));
    }

    [Fact]
    public void Limits_begin_anew_where_the_cadence_or_the_plan_changed_or_the_publisher_says_so()
    {
        var points = Points([5, 6, 5, 9, 10, 9, 2, 3]);
        points[6] = points[6] with { PlanVersion = 2 };
        points[7] = points[7] with { PlanVersion = 2 };

        var chart = BehaviourChart.Of(points, [new(Day(3), RestartReason.Cadence), new(Day(90), RestartReason.Said)]);

        Assert.Equal(
            [(0, 3, RestartReason.Beginning), (3, 3, RestartReason.Cadence),
                (6, 2, RestartReason.StagePlan), (8, 0, RestartReason.Said)],
            chart.Phases.Select(phase => (phase.First, phase.Count, phase.Reason)));
        Assert.Equal([null, 1, 1, null, 1, 1, null, 1], chart.Ranges);
        Assert.Equal(Lack.NothingCounted, chart.Phases[3].Limits.Missing);
        Assert.Empty(chart.Signals);
        Assert.All(chart.Phases, phase => Assert.False(phase.IsFrozen));
    }

    [Fact]
    public void Later_points_do_not_move_a_frozen_limit()
    {
        var few = BehaviourChart.Of(Points([5, 6, 5, 7]), [], baseline: 4);
        var many = BehaviourChart.Of(Points([5, 6, 5, 7, 70, 80, 90]), [], baseline: 4);

        Assert.Equal(few.Phases[0].Limits, many.Phases[0].Limits);
    }

    [Fact]
    public void Without_variation_there_is_no_chart_and_no_signal()
    {
        var chart = BehaviourChart.Of(Points([4, 4, 4, 4, 9]), [], baseline: 4);

        Assert.Equal(Lack.NoVariation, chart.Phases[0].Limits.Missing);
        Assert.Empty(chart.Signals);
    }

    private static ChartPoint[] Points(double[] values) =>
        [.. values.Select((value, day) => new ChartPoint(Guid.Empty, Day(day), value, 1))];

    private static void AssertSignals(System.Text.Json.JsonElement expected, IEnumerable<Signal> signals)
    {
        foreach (var rule in expected.EnumerateObject())
        {
            Assert.Equal(
                rule.Value.EnumerateArray().Select(index => index.GetInt32()),
                signals.Where(signal => signal.Rule == int.Parse(rule.Name, null)).Select(signal => signal.Index));
        }
    }
}
