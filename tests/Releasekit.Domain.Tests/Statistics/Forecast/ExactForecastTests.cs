using System.Text.Json;
using CsCheck;
using NodaTime.Text;
using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Forecast;
using static Releasekit.Domain.Tests.Statistics.Forecast.Ahead;

namespace Releasekit.Domain.Tests.Statistics.Forecast;

/// <summary>Simulated forecasts whose answers are known exactly.</summary>
public sealed class ExactForecastTests
{
    private const int Trials10K = 10_000;

    /// <summary>Elementary (two dice) and own exact convolutions.</summary>
    [Theory]
    [InlineData("g.two_dice")]
    [InlineData("g.three_stages_independent")]
    public void Independent_stages_add_up_to_the_exact_law(string id)
    {
        var check = CheckCase.Find("statistics.json", id);
        var samples = Samples(check.Inputs.GetProperty("stage_samples"));
        var law = WorkLaw.OfStages(Keys(samples.Length), samples);

        AssertLaw(check.Expected, TrialModel.Of(law, [Open(1, null, Line(samples.Length))]));
    }

    [Fact]
    public void Whole_past_releases_keep_what_belongs_together()
    {
        var check = CheckCase.Find("statistics.json", "g.rows_versus_columns");
        var rows = Samples(check.Inputs.GetProperty("past_episodes"));
        double[][] columns = [.. Enumerable.Range(0, 3).Select(i => rows.Select(row => row[i]).ToArray())];
        var open = Open(1, null, Line(3));

        AssertLaw(check.Expected.GetProperty("whole_rows"), TrialModel.Of(WorkLaw.OfPast(Past(rows)), [open]));
        AssertLaw(
            check.Expected.GetProperty("independent_stages"),
            TrialModel.Of(WorkLaw.OfStages(Keys(3), columns), [open]));
    }

    [Fact]
    public void Side_by_side_the_longest_path_counts()
    {
        var check = CheckCase.Find("statistics.json", "g.parallel_max");
        string[] keys = ["X", "Y", "Z"];
        var law = WorkLaw.OfStages(keys, [.. keys.Select(key => check.Inputs.Numbers(key))]);
        var open = Open(1, null, Stage("Y", 0, "X"), Stage("X"), Stage("Z"));

        AssertLaw(check.Expected, TrialModel.Of(law, [open], WorkPattern.SideBySide));
    }

    [Fact]
    public void Working_days_become_dates_on_the_calendar()
    {
        var check = CheckCase.Find("statistics.json", "g.calendar_dates");
        var days = Samples(check.Inputs.GetProperty("stage_samples"));
        var law = WorkLaw.OfStages(Keys(3), [.. days.Select(stage => stage.Select(day => day * 8).ToArray())]);
        var start = Instant.FromUtc(2024, 5, 3, 9, 0);
        var forecast = WorkForecast.Simulate(
            TrialModel.Of(law, [Open(1, null, Line(3))]), Days(new LocalDate(2024, 5, 9)), start, seed: 3);

        var upTo = 0.0;
        foreach (var date in check.Expected.GetProperty("pmf").EnumerateObject())
        {
            upTo += date.Value.GetDouble();
            var evening = LocalDatePattern.Iso.Parse(date.Name).Value.At(new LocalTime(17, 0)).InUtc().ToInstant();
            AssertNear(Math.Min(1, upTo), Ready(evening), Trials10K);
            AssertNear(Math.Min(1, upTo) - date.Value.GetDouble(), Ready(evening - Duration.FromMinutes(1)), Trials10K);
        }

        int Ready(Instant at) => (int)Math.Round(forecast.ReadyBy(at).AtLeast[1].Value * Trials10K);
    }

    /// <summary>Exact binomial law of a type-1 percentile of 10,000 runs: why percentiles are not asserted.</summary>
    [Fact]
    public void A_percentile_of_many_trials_is_the_exact_one_only_with_a_probability()
    {
        var check = CheckCase.Find("statistics.json", "g.quantile_hit_probability");
        var exact = CheckCase.Find("statistics.json", check.Inputs.Text("case")).Expected;
        var (n, cdf) = (check.Inputs.GetProperty("N").GetInt32(), exact.GetProperty("cdf"));

        foreach (var hit in check.Expected.EnumerateObject())
        {
            var percent = (int)Math.Round(double.Parse(hit.Name, null) * 100);
            var days = exact.GetProperty($"P{percent}").GetInt32();
            var rank = (n * percent + 99) / 100;

            check.AssertNear(
                hit.Value,
                new BinomialLaw(n, cdf.Number($"{days}")).From(rank)
                    - new BinomialLaw(n, cdf.Number($"{days - 1}")).From(rank));
        }
    }

    [Fact]
    public void The_error_of_a_simulation_is_binomial()
    {
        var check = CheckCase.Find("statistics.json", "g.simulation_error");
        var (n, shares) = ((int)check.Inputs.Number("N"), check.Inputs.Numbers("p"));

        Assert.All(shares.Zip(check.Expected.Numbers("se")), pair =>
            Assert.Equal(pair.Second, SimulationError.Of(pair.First, n), check.Tolerance));
        Assert.All(shares.Zip(check.Expected.Numbers("tol_z5")), pair =>
            Assert.Equal(pair.Second, 5 * SimulationError.Of(pair.First, n), check.Tolerance));
        Assert.Equal(
            check.Expected.Numbers("N_for_half_width_0_01"),
            shares.Select(share => (double)SimulationError.TrialsFor(share, 0.01)));
    }

    /// <summary>Reference outputs as widely printed (from memory).</summary>
    [Fact]
    public void The_generator_gives_the_reference_numbers()
    {
        var check = CheckCase.Find("statistics.json", "g.splitmix64");
        var numbers = new SplitMix64(check.Inputs.GetProperty("seed").GetUInt64());

        Assert.All(check.Expected.Strings("first5"), expected =>
            Assert.Equal(ulong.Parse(expected, null), numbers.Next()));
    }

    [Fact]
    public void Small_cases_agree_with_all_pairs_counted() =>
        Gen.Select(Gen.Int[1, 9].Array[1, 4], Gen.Int[0, 9].Array[1, 4], Gen.Int[0, 20]).Sample((one, other, limit) =>
        {
            var law = WorkLaw.OfStages(
                ["a", "b"],
                [[.. one.Select(hours => (double)hours)], [.. other.Select(hours => (double)hours)]]);
            var model = TrialModel.Of(law, [Open(1, null, Stage("a")), Open(2, null, Stage("b"))]);
            var exact = one.Sum(a => other.Count(b => a + b <= limit)) / (double)(one.Length * other.Length);

            AssertNear(exact, Trials(model, 2000)[1].Count(hours => hours <= limit), 2000);
        }, iter: 200);

    private static void AssertLaw(JsonElement expected, TrialModel model)
    {
        var hours = Trials(model, Trials10K)[0];
        foreach (var upTo in expected.GetProperty("cdf").EnumerateObject())
        {
            AssertNear(
                upTo.Value.GetDouble(), hours.Count(value => value <= double.Parse(upTo.Name, null)), Trials10K);
        }

        // The mean within five of its own standard errors.
        Assert.InRange(
            Math.Abs(hours.Average() - expected.Number("mean")), 0,
            5 * Math.Sqrt(expected.Number("var") / Trials10K));
    }

    private static double[][] Samples(JsonElement table) =>
        [.. table.EnumerateArray().Select(row => row.EnumerateArray().Select(value => value.GetDouble()).ToArray())];
}
