using CsCheck;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Forecast;
using Releasekit.Domain.Statistics.Timeliness;

namespace Releasekit.Domain.Tests.Statistics.Timeliness;

public sealed class TimelinessFiguresTests
{
    [Theory]
    [MemberData(nameof(Cases))]
    public void Ratios_heaps_and_signs_are_those_of_the_check_values(string id, string source)
    {
        var check = CheckCase.Find("statistics.json", id);
        Assert.Equal(source, check.Source);

        var figures = TimelinessFigures.Of(
            [.. check.Inputs.Numbers("allotted").Zip(check.Inputs.Numbers("actual"), (a, b) => new Allotment(a, b))]);

        Assert.Equal(check.Expected.GetProperty("n").GetInt32(), figures.N);
        Assert.Equal(check.Expected.GetProperty("excluded").GetInt32(), figures.Excluded);
        check.AssertNear(check.Expected.GetProperty("median_ratio"), figures.MedianRatio);
        check.AssertNear(check.Expected.GetProperty("mean_ratio"), figures.MeanRatio);
        check.AssertNear(check.Expected.GetProperty("log_ratio_mean"), figures.LogRatioMean);
        check.AssertNear(check.Expected.GetProperty("log_ratio_sd"), figures.LogRatioSd);
        check.AssertNear(check.Expected.GetProperty("geometric_mean_ratio"), figures.GeometricMeanRatio);
        check.AssertNear(check.Expected.GetProperty("total_ratio"), figures.TotalRatio);
        check.AssertNear(check.Expected.GetProperty("mape_of_actual"), figures.ErrorOfActual);
        check.AssertNear(check.Expected.GetProperty("mape_of_allotted"), figures.ErrorOfAllotted);
        check.AssertNear(check.Expected.GetProperty("within_25pct"), figures.WithinQuarter.Value);
        check.AssertNear(check.Expected.GetProperty("share_at_or_under"), figures.AtOrUnder.Value);
        check.AssertNear(check.Expected.GetProperty("share_in_90_100"), figures.HeapedBelow.Value);
        check.AssertNear(check.Expected.GetProperty("share_equal"), figures.Exact.Value);

        if (check.Expected.TryGetProperty("sign", out var sign))
        {
            AssertSign(check, sign, figures.Sign);
        }
    }

    public static TheoryData<string, string> Cases() => CheckCase.Rows("statistics.json", "k.calibration.");

    [Theory]
    [MemberData(nameof(SignCases))]
    public void The_sign_test_gives_what_the_sources_give(string id, string source)
    {
        var check = CheckCase.Find("statistics.json", id);
        Assert.Equal(source, check.Source);

        var test = check.Inputs.TryGetProperty("plus", out var plus)
            ? SignTest.Of(plus.GetInt32(), check.Inputs.GetProperty("minus").GetInt32(), ties: 0)
            : SignTest.Of([.. check.Inputs.Numbers("x").Zip(check.Inputs.Numbers("y"))]);

        AssertSign(check, check.Expected, test);
    }

    public static TheoryData<string, string> SignCases() => CheckCase.Rows("statistics.json", "k.sign.");

    [Fact]
    public void The_error_by_the_actual_rewards_low_promises()
    {
        var check = CheckCase.Find("statistics.json", "k.mape.bias");
        var actuals = check.Inputs.Numbers("actuals");

        check.AssertNear(check.Expected.GetProperty("mape_at_1"), ErrorAt(1));
        check.AssertNear(check.Expected.GetProperty("mape_at_2"), ErrorAt(2));
        check.AssertNear(check.Expected.GetProperty("mape_at_mean"), ErrorAt(actuals.Average()));
        Assert.Equal(
            check.Expected.GetProperty("mape_optimal_forecast").GetDouble(),
            Enumerable.Range(1, 80).Select(tenth => tenth / 10.0).MinBy(promise => ErrorAt(promise)));

        double ErrorAt(double promise) => TimelinessFigures.Of(
            [.. actuals.Select(actual => new Allotment(promise, actual))]).ErrorOfActual!.Value;
    }

    [Fact]
    public void Half_and_double_are_as_far_off_by_the_logarithm_alone()
    {
        var check = CheckCase.Find("statistics.json", "k.mape.asymmetry");
        TimelinessFigures[] each =
            [TimelinessFigures.Of([new Allotment(5, 10)]), TimelinessFigures.Of([new Allotment(20, 10)])];

        for (var i = 0; i < each.Length; i++)
        {
            check.AssertNear(check.Expected.GetProperty("ape")[i], each[i].ErrorOfActual);
            Assert.Equal(check.Expected.GetProperty("log_ratio")[i].GetDouble(), each[i].LogRatioMean!.Value, 9);
        }
    }

    /// <summary>Simulated by the forecast's own trials; exact values of the case, within five standard
    /// errors.</summary>
    [Fact]
    public void Work_that_fills_the_time_it_is_given_takes_longer_in_all()
    {
        var check = CheckCase.Find("statistics.json", "k.expansion.exact");
        var stage = check.Inputs.Numbers("stage");
        var allotted = check.Inputs.GetProperty("allotted").GetDouble();

        AssertMean(check.Expected.GetProperty("expected_total_free").GetDouble(), stage);
        AssertMean(
            check.Expected.GetProperty("expected_total_expanding").GetDouble(),
            [.. stage.Select(days => Math.Max(days, allotted))]);

        static void AssertMean(double expected, double[] samples)
        {
            var law = WorkLaw.OfStages(["a", "b"], [samples, samples]);
            var totals = Forecast.Ahead.Trials(
                TrialModel.Of(law, [Forecast.Ahead.Open(1, null, Forecast.Ahead.Line(2))]), 10_000)[0];
            var deviation = Math.Sqrt(totals.Sum(total => Math.Pow(total - totals.Average(), 2)) / totals.Length);
            Assert.InRange(Math.Abs(totals.Average() - expected), 0, 5 * deviation / 100);
        }
    }

    [Fact]
    public void A_suggestion_needs_five_and_names_the_side_it_cannot_bound()
    {
        Allotment[] pairs = [new(10, 12), new(20, 20), new(10, 15), new(5, 5), new(8, 16)];

        var half = TimelinessFigures.Suggest(pairs, 30, 50, FigureUnit.ElapsedDays);

        Assert.Equal(36, half.Value!.Value, 9);
        Assert.Equal(Lack.NoFiniteBound, half.HighMissing);
        Assert.Equal(
            Lack.TooFewPast, TimelinessFigures.Suggest(pairs[..4], 30, 50, FigureUnit.ElapsedDays).Missing);
    }

    [Fact]
    public void None_one_and_two_give_what_can_be_said()
    {
        var none = TimelinessFigures.Of([]);
        var one = TimelinessFigures.Of([new(4, 6)]);
        var two = TimelinessFigures.Of([new(4, 6), new(4, 2)]);

        Assert.Equal((0, 0), (none.N, none.Excluded));
        Assert.All(
            [none.MedianRatio, none.MeanRatio, none.LogRatioMean, none.LogRatioSd, none.GeometricMeanRatio,
                none.TotalRatio, none.ErrorOfActual, none.ErrorOfAllotted, none.Sign.TwoSided, none.Slope],
            Assert.Null);
        Assert.Equal(Lack.NothingCounted, none.AtOrUnder.Missing);
        Assert.Equal((1.5, null), (one.MedianRatio, one.LogRatioSd));
        Assert.Equal((1.0, 1.0, 1), (two.MedianRatio, two.TotalRatio, two.Sign.Greater));
        Assert.Equal((Math.Log(1.5) - Math.Log(0.5)) / Math.Sqrt(2), two.LogRatioSd!.Value, 9);
    }

    [Fact]
    public void What_is_exact_but_for_a_rounding_is_a_tie_to_every_figure()
    {
        var figures = TimelinessFigures.Of([new(0.3, 0.1 + 0.2), new(0.1 + 0.2, 0.3), new(2, 3)]);

        Assert.Equal(2 / 3.0, figures.Exact.Value!.Value, 9);
        Assert.Equal(new SignTest(Greater: 1, Smaller: 0, Ties: 2, TwoSided: 1, OneSided: 0.5), figures.Sign);
    }

    [Fact]
    public void The_slope_is_one_for_work_that_fills_its_time_and_none_for_work_that_does_not() =>
        Gen.Double[0.5, 3].Sample(factor =>
        {
            Assert.Equal(1, Slope(allotted => allotted * factor)!.Value, 9);
            Assert.Equal(0, Slope(_ => factor)!.Value, 9);
            Assert.Null(TimelinessFigures.Of([new(5, 5), new(5, 6), new(7, 7)]).Slope);

            static double? Slope(Func<double, double> actual) => TimelinessFigures.Of(
                [.. new double[] { 2, 5, 9, 14 }.Select(allotted => new Allotment(allotted, actual(allotted)))]).Slope;
        });

    private static void AssertSign(CheckCase check, System.Text.Json.JsonElement expected, SignTest test)
    {
        if (expected.TryGetProperty("plus", out var plus))
        {
            Assert.Equal(
                (plus.GetInt32(), expected.GetProperty("minus").GetInt32()), (test.Greater, test.Smaller));
            Assert.Equal(expected.GetProperty("ties").GetInt32(), test.Ties);
        }

        check.AssertNear(expected.GetProperty("p_two_sided"), test.TwoSided);

        if (expected.TryGetProperty("p_one_sided_greater", out var greater)
            || expected.TryGetProperty("p_one_sided", out greater))
        {
            check.AssertNear(greater, test.OneSided);
        }
    }
}
