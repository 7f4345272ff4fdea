using Releasekit.Domain.Statistics.Calibration;
using static Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Calibration;

public sealed class ForecastScoringTests
{
    /// <summary>Own numbers: "done within the stated days" at 50 and 85 %; Wilson; pinball loss.</summary>
    [Theory]
    [InlineData(50, 0)]
    [InlineData(85, 1)]
    public void Dates_told_at_a_percentile_are_hit_or_missed(int percent, int column)
    {
        var check = CheckCase.Find("statistics.json", "h.percentile_forecasts");
        double[] told =
        [
            .. check.Inputs.GetProperty("forecast_P50_P85").EnumerateArray().Select(pair => pair[column].GetDouble()),
        ];
        var actual = check.Inputs.Numbers("actual");
        var issued = told.Select((days, i) => new IssuedForecast(Name(i), Day(0), Day(days), percent / 100.0));
        var outcomes = issued.Select((forecast, i) =>
            ForecastScoring.Outcome(forecast, new ReleaseOutcome(Day(actual[i]), null), Day(100))).ToArray();

        var figures = CalibrationFigures.Of(
            [.. outcomes.Select(hit => new ScoredForecast(percent / 100.0, hit!.Value))]);

        Assert.Equal(check.Expected.Numbers($"hits{percent}").Select(hit => (bool?)(hit == 1)), outcomes);
        check.AssertNear(check.Expected.GetProperty($"rate{percent}"), figures.Rate);
        check.AssertNear(check.Expected.GetProperty($"wilson{percent}")[0], figures.Table[0].Observed.Low);
        check.AssertNear(check.Expected.GetProperty($"wilson{percent}")[1], figures.Table[0].Observed.High);
        check.AssertNear(check.Expected.GetProperty($"brier{percent}"), figures.Score);
        check.AssertNear(
            check.Expected.GetProperty($"pinball{percent}"), PercentileLoss.Of([.. told.Zip(actual)], percent));
        Assert.Null(PercentileLoss.Of([], percent));
    }

    [Fact]
    public void Unfinished_past_the_date_is_a_miss_already_and_before_it_not_yet_scored()
    {
        var forecast = new IssuedForecast(Name(1), Day(0), Day(10), 0.8);

        Assert.Null(ForecastScoring.Outcome(forecast, default, Day(10)));
        Assert.False(ForecastScoring.Outcome(forecast, default, Day(10.1)));
        Assert.True(ForecastScoring.Outcome(forecast, new(Day(10), null), Day(10)));
        Assert.Null(ForecastScoring.Outcome(forecast, new(Day(9), null), Day(8)));
        Assert.Null(ForecastScoring.Outcome(forecast, new(null, Day(5)), Day(20)));
        Assert.False(ForecastScoring.Outcome(forecast, new(null, Day(15)), Day(20)));
    }

    [Fact]
    public void One_forecast_a_release_is_scored_in_each_class_of_lead_time()
    {
        IssuedForecast[] issued =
        [
            new(Name(1), Day(0), Day(10), 0.5), new(Name(1), Day(1), Day(10), 0.9), new(Name(1), Day(5), Day(10), 0.7),
            new(Name(2), Day(95), Day(99), 0.6), new(Name(3), Day(1), Day(5), 0.4),
        ];
        var outcomes = new Dictionary<Guid, ReleaseOutcome>
        {
            [Name(1)] = new(Day(9), null),
            [Name(3)] = new(null, Day(3)),
        };

        var classes = ForecastScoring.ByLead(issued, outcomes, Day(96), ForecastScoring.UsualLeads);

        Assert.Equal([(0, 7), (7, 14), (14, 28), (28, null)], classes.Select(one => (one.FromDays, one.ToDays)));
        Assert.Equal([(1, 1), (1, 0), (0, 0), (0, 0)], classes.Select(one => (one.Figures.N, one.NotYetScored)));
        Assert.Equal(0.5, classes[1].Figures.Table[0].MeanForecast);
    }

    private static Guid Name(int number) => new(number, 0, 0, new byte[8]);
}
