using System.Text.Json;
using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Tests.Planning;

public sealed class PertForecastTests
{
    // Printed probabilities come from a table with Z rounded to two places.
    private const double TableRounding = 0.002;

    /// <summary>Heizer and Render, Milwaukee Paper with three estimates.</summary>
    [Fact]
    public void The_forecast_of_the_paper_mill_is_the_printed_one()
    {
        var check = CheckCase.Find("statistics.json", "f.pert.milwaukee");
        var after = check.Inputs.GetProperty("preds");
        var estimates = Estimates(check, key => after.Strings(key));
        var limit = check.Inputs.Number("x");

        var forecast = PertForecast.TryFind(estimates, out var fault)!;

        Assert.Null(fault);
        AssertMoments(check, estimates);
        check.AssertNear(check.Expected.GetProperty("mean"), forecast.Mean);
        check.AssertNear(check.Expected.GetProperty("variance"), forecast.Variance);
        check.AssertNear(check.Expected.GetProperty("sd"), forecast.StandardDeviation);
        check.AssertNear(check.Expected.GetProperty("z"), forecast.Score(limit));
        check.AssertNear(check.Expected.GetProperty("p"), forecast.ChanceWithin(limit));
        Assert.InRange(forecast.ChanceWithin(limit), 0.71567 - TableRounding, 0.71567 + TableRounding);
    }

    /// <summary>
    /// Taylor, Introduction to Management Science, example problem; printed: mean 24, P(x ≤ 28) = .9633.
    /// </summary>
    [Fact]
    public void The_forecast_along_the_path_of_the_text_book_is_the_printed_one()
    {
        var check = CheckCase.Find("statistics.json", "f.pert.taylor_example");
        var estimates = Estimates(check, _ => []);
        var limit = check.Inputs.Number("x");

        var path = check.Inputs.Strings("critical_path");
        var forecast = PertForecast.Along(estimates.Where(estimate => path.Contains(estimate.Key)));

        AssertMoments(check, estimates);
        check.AssertNear(check.Expected.GetProperty("mean"), forecast.Mean);
        check.AssertNear(check.Expected.GetProperty("variance"), forecast.Variance);
        check.AssertNear(check.Expected.GetProperty("z"), forecast.Score(limit));
        check.AssertNear(check.Expected.GetProperty("p"), forecast.ChanceWithin(limit));
        Assert.InRange(forecast.ChanceWithin(limit), 0.9633 - TableRounding, 0.9633 + TableRounding);
    }

    /// <summary>
    /// Own exact case: two paths, each 1, 2 or 3 with 1/4, 1/2, 1/4; all nine pairs through the critical path.
    /// </summary>
    [Fact]
    public void Two_paths_side_by_side_take_longer_than_either_says()
    {
        var check = CheckCase.Find("statistics.json", "f.pert.merge_bias");
        var law = check.Inputs.GetProperty("path").EnumerateObject()
            .Select(entry => (Hours: int.Parse(entry.Name, null), Chance: entry.Value.GetDouble())).ToArray();

        var both = (from one in law
                    from other in law
                    select (Length: Length(one.Hours, other.Hours), Chance: one.Chance * other.Chance)).ToArray();

        check.AssertNear(check.Expected.GetProperty("mean_single"), law.Sum(one => one.Hours * one.Chance));
        check.AssertNear(
            check.Expected.GetProperty("p_single_le2"), law.Where(one => one.Hours <= 2).Sum(one => one.Chance));
        check.AssertNear(check.Expected.GetProperty("mean_max"), both.Sum(pair => pair.Length * pair.Chance));
        check.AssertNear(
            check.Expected.GetProperty("p_both_le2"), both.Where(pair => pair.Length <= 2).Sum(pair => pair.Chance));
    }

    [Fact]
    public void Of_paths_equally_long_the_one_that_scatters_most_counts()
    {
        var forecast = PertForecast.TryFind([new("calm", 4, 4, 4, []), new("wild", 1, 4, 7, [])], out _)!;

        Assert.Equal(new PertForecast(4, 1), forecast);
    }

    [Fact]
    public void Nothing_to_do_takes_no_time_for_certain()
    {
        var forecast = PertForecast.TryFind([], out _)!;

        Assert.Equal(new PertForecast(0, 0), forecast);
        Assert.Null(forecast.Score(1));
        Assert.Equal(1, forecast.ChanceWithin(0));
        Assert.Equal(0, forecast.ChanceWithin(-0.1));
    }

    [Fact]
    public void A_circle_is_refused()
    {
        Assert.Null(PertForecast.TryFind([new("a", 1, 1, 1, ["b"]), new("b", 1, 1, 1, ["a"])], out var fault));
        Assert.Contains("in a circle", fault!, StringComparison.Ordinal);
    }

    private static double Length(int one, int other) => CriticalPath.TryFind(
        [new("one", Duration.FromHours(one), []), new("other", Duration.FromHours(other), [])],
        out _)!.Length.TotalHours;

    private static PertEstimate[] Estimates(CheckCase check, Func<string, string[]> after) =>
    [
        .. check.Inputs.GetProperty("estimates").EnumerateObject().Select(entry => new PertEstimate(
            entry.Name,
            entry.Value[0].GetDouble(),
            entry.Value[1].GetDouble(),
            entry.Value[2].GetDouble(),
            after(entry.Name))),
    ];

    private static void AssertMoments(CheckCase check, IEnumerable<PertEstimate> estimates)
    {
        foreach (var estimate in estimates)
        {
            check.AssertNear(Value("te"), estimate.Mean);
            check.AssertNear(Value("var"), estimate.Variance);

            JsonElement Value(string name) => check.Expected.GetProperty(name).GetProperty(estimate.Key);
        }
    }
}
