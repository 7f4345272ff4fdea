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
        var issued = told.Select((days, i) => new IssuedForecast(Name(i), Day(0), Day(99), Day(days), percent / 100.0));
        var outcomes = issued.Select((forecast, i) =>
            ForecastScoring.Outcome(forecast, new ReleaseOutcome(Day(actual[i]), null, null), Day(100))).ToArray();

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
        var forecast = new IssuedForecast(Name(1), Day(0), Day(10), Day(10), 0.8);

        Assert.Null(ForecastScoring.Outcome(forecast, default, Day(10)));
        Assert.False(ForecastScoring.Outcome(forecast, default, Day(10.1)));
        Assert.True(ForecastScoring.Outcome(forecast, new(Day(10), null, null), Day(10)));
        Assert.Null(ForecastScoring.Outcome(forecast, new(Day(9), null, null), Day(8)));
        Assert.Null(ForecastScoring.Outcome(forecast, new(null, Day(5), null), Day(20)));
        Assert.False(ForecastScoring.Outcome(forecast, new(null, Day(15), null), Day(20)));
    }

    [Fact]
    public void Of_each_release_the_last_forecast_no_later_than_the_lead_time_is_scored()
    {
        IssuedForecast[] issued =
        [
            Told(1, 0, 0.5), Told(1, 2.9, 0.9), Told(1, 3, 0.7), Told(1, 8, 0.2), Told(2, 6, 0.6), Told(3, 2, 0.4),
        ];
        var outcomes = new Dictionary<Guid, ReleaseOutcome>
        {
            [Name(1)] = new(Day(9), null, Day(10)),
            [Name(2)] = new(null, null, Day(10)),
            [Name(3)] = new(null, Day(3), Day(10)),
        };

        var soon = ForecastScoring.ByLead(issued, outcomes, Day(9.5), [1, 3, 7, 14]);
        var later = ForecastScoring.ByLead(issued, outcomes, Day(12), [1, 3, 7, 14]);

        Assert.Equal([1, 3, 7, 14], soon.Select(one => one.LeadDays));
        Assert.Equal([(1, 1), (1, 1), (1, 0), (0, 0)], soon.Select(one => (one.Figures.N, one.NotYetScored)));
        Assert.Equal([(2, 0), (2, 0), (1, 0), (0, 0)], later.Select(one => (one.Figures.N, one.NotYetScored)));
        Assert.Equal([0.2, 0.7, 0.7], soon.Take(3).Select(one => one.Figures.Table[0].MeanForecast));
    }

    [Fact]
    public void A_forecast_about_a_promise_that_was_changed_is_left_out()
    {
        IssuedForecast[] issued = [Told(1, 0, 0.5)];

        Assert.Equal(0, Scored(Day(17)));
        Assert.Equal(0, Scored(null));
        Assert.Equal(1, Scored(Day(10)));

        int Scored(Instant? promised) => ForecastScoring.ByLead(
            issued, new Dictionary<Guid, ReleaseOutcome> { [Name(1)] = new(null, null, promised) }, Day(30), [1])[0]
            .Figures.N;
    }

    /// <summary>For a slot on day 10, with an hour of grace.</summary>
    private static IssuedForecast Told(int name, double day, double chance) =>
        new(Name(name), Day(day), Day(10), Day(10) + Duration.FromHours(1), chance);

    private static Guid Name(int number) => new(number, 0, 0, new byte[8]);
}
