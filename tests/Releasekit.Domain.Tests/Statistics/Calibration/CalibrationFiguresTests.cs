using System.Text.Json;
using CsCheck;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Calibration;

namespace Releasekit.Domain.Tests.Statistics.Calibration;

public sealed class CalibrationFiguresTests
{
    /// <summary>Brier 1950, Murphy 1973, Stephenson, Coelho and Jolliffe 2008; own numbers.</summary>
    [Theory]
    [InlineData("h.murphy.ten")]
    [InlineData("h.murphy.binned40")]
    [InlineData("h.edge.all_events")]
    [InlineData("h.edge.n0")]
    [InlineData("h.edge.n1")]
    [InlineData("h.edge.perfect")]
    [InlineData("h.edge.ties_same_forecast")]
    public void The_score_and_its_parts_are_those_of_the_check(string id)
    {
        var check = CheckCase.Find("statistics.json", id);
        var forecasts = Forecasts(check, "forecast", "outcome");

        var figures = check.Inputs.TryGetProperty("edges", out _)
            ? CalibrationFigures.Of(forecasts, check.Inputs.Numbers("edges"))
            : CalibrationFigures.Of(forecasts);

        check.AssertNear(check.Expected.GetProperty("brier"), figures.Score);
        if (figures.N == 0)
        {
            Assert.Equal((null, Lack.NothingCounted), (figures.Reliability, figures.SkillMissing));
            return;
        }

        Assert.Equal(check.Expected.Number("n"), figures.N);
        check.AssertNear(check.Expected.GetProperty("base_rate"), figures.Rate);
        check.AssertNear(check.Expected.GetProperty("reliability"), figures.Reliability);
        check.AssertNear(check.Expected.GetProperty("resolution"), figures.Resolution);
        check.AssertNear(check.Expected.GetProperty("uncertainty"), figures.Uncertainty);
        check.AssertNear(check.Expected.GetProperty("within_bin_variance"), figures.WithinVariance);
        check.AssertNear(check.Expected.GetProperty("within_bin_covariance"), figures.WithinCovariance);
        check.AssertNear(check.Expected.GetProperty("skill"), figures.Skill);
        Assert.All(check.Expected.GetProperty("table").EnumerateArray().Zip(figures.Table), pair =>
            AssertRow(check, pair.First, pair.Second));
        Assert.Equal(check.Expected.GetProperty("table").GetArrayLength(), figures.Table.Count);
    }

    /// <summary>A public encyclopedia's single values (opened): .09, .49, and .25 for a coin whatever comes.</summary>
    [Fact]
    public void Single_forecasts_score_as_published()
    {
        var check = CheckCase.Find("statistics.json", "h.brier.single_values");
        var forecasts = Forecasts(check, "forecast", "outcome");

        Assert.All(check.Expected.Numbers("per_forecast").Zip(forecasts), pair =>
            Assert.Equal(pair.First, CalibrationFigures.Of([pair.Second]).Score!.Value, check.Tolerance));
        check.AssertNear(check.Expected.GetProperty("mean"), CalibrationFigures.Of(forecasts).Score);
    }

    /// <summary>Brier 1950, Monthly Weather Review 78: P = 0.19 (from memory), which sums both classes.</summary>
    [Fact]
    public void The_score_of_1950_is_twice_todays()
    {
        var check = CheckCase.Find("statistics.json", "h.brier1950_table");
        var chances = check.Inputs.Numbers("forecast_rain");

        foreach (var column in check.Inputs.GetProperty("outcome_rain").EnumerateArray())
        {
            var figures = CalibrationFigures.Of([.. chances.Zip(
                column.EnumerateArray(), (chance, rain) => new ScoredForecast(chance, rain.GetInt32() == 1))]);

            check.AssertNear(check.Expected.GetProperty("two_class_P"), figures.ScoreOfBothClasses);
            check.AssertNear(check.Expected.GetProperty("half_brier"), figures.Score);
        }
    }

    [Fact]
    public void The_parts_sum_to_the_score_in_any_rows() =>
        Gen.Select(Gen.Int[0, 20], Gen.Bool).Array[1, 40].Sample(drawn =>
        {
            ScoredForecast[] forecasts = [.. drawn.Select(one => new ScoredForecast(one.Item1 / 20.0, one.Item2))];
            AssertSum(CalibrationFigures.Of(forecasts, [0, 0.3, 0.5, 0.85, 1]));
            var distinct = CalibrationFigures.Of(forecasts);
            AssertSum(distinct);
            Assert.Equal((0, 0), (distinct.WithinVariance, distinct.WithinCovariance));
        });

    private static void AssertSum(CalibrationFigures figures) => Assert.Equal(
        figures.Score!.Value,
        (figures.Reliability - figures.Resolution + figures.Uncertainty + figures.WithinVariance
            - figures.WithinCovariance)!.Value,
        1e-12);

    private static ScoredForecast[] Forecasts(CheckCase check, string forecast, string outcome) =>
        [.. check.Inputs.Numbers(forecast).Zip(
            check.Inputs.Numbers(outcome), (chance, happened) => new ScoredForecast(chance, happened == 1))];

    private static void AssertRow(CheckCase check, JsonElement expected, ReliabilityRow row)
    {
        Assert.Equal(expected.Number("n"), row.Observed.N);
        check.AssertNear(expected.GetProperty("mean_forecast"), row.MeanForecast);
        check.AssertNear(expected.GetProperty("observed"), row.Observed.Value);
        if (expected.TryGetProperty("wilson95", out var interval))
        {
            check.AssertNear(interval[0], row.Observed.Low);
            check.AssertNear(interval[1], row.Observed.High);
        }
    }
}
