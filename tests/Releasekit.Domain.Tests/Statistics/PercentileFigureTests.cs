using CsCheck;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class PercentileFigureTests
{
    public static TheoryData<string, string> Percentiles => CheckCase.Rows("statistics.json", "b.pct.");

    public static TheoryData<string, string> Ranks => CheckCase.Rows("statistics.json", "b.pctci.ranks_");

    /// <summary>Type 1 of R's quantile(); the other eight types stand in the file for comparison.</summary>
    [Theory]
    [MemberData(nameof(Percentiles))]
    public void A_percentile_is_the_type_1_value_of_the_check(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        if (id == "b.pct.float_trap")
        {
            double[] hundred = [.. Enumerable.Range(1, 100).Select(value => (double)value)];
            check.AssertNear(check.Expected.GetProperty("exact"), Percentile.Of(hundred, 7));
            return;
        }

        double[] sorted = [.. check.Inputs.Numbers("data").Order()];
        var percents = check.Inputs.Numbers("p").Select(p => (int)Math.Round(p * 100));

        Assert.Equal(
            check.Expected.Numbers("type1"), percents.Select(percent => Percentile.Of(sorted, percent)!.Value));
    }

    [Theory]
    [MemberData(nameof(Ranks))]
    public void The_interval_takes_the_ranks_of_the_binomial_law(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        double[] values = [.. Enumerable.Range(1, (int)check.Inputs.Number("n")).Select(value => (double)value)];

        var figure = PercentileFigure.Of(values, (int)(check.Inputs.Number("p") * 100), FigureUnit.ElapsedDays);

        check.AssertNear(check.Expected.GetProperty("l"), figure.LowRank);
        check.AssertNear(check.Expected.GetProperty("u"), figure.HighRank);
        check.AssertNear(check.Expected.GetProperty("lower"), figure.Estimate.Low);
        check.AssertNear(check.Expected.GetProperty("upper"), figure.Estimate.High);
        check.AssertNear(check.Expected.GetProperty("coverage"), figure.Coverage);
        Assert.Equal(figure.Estimate.High is null ? Lack.NoFiniteBound : null, figure.Estimate.HighMissing);
        Assert.Equal(figure.Estimate.Low is null ? Lack.NoFiniteBound : null, figure.Estimate.LowMissing);
    }

    /// <summary>Help page of the R package statpsych, ci.median (opened): 38, from 29 to 44.</summary>
    [Fact]
    public void The_interval_of_the_median_is_the_published_one()
    {
        var check = CheckCase.Find("statistics.json", "b.pctci.median10");
        double[] sorted = [.. check.Inputs.Numbers("data").Order()];

        var figure = PercentileFigure.Of(sorted, 50, FigureUnit.ElapsedDays);

        check.AssertNear(check.Expected.GetProperty("l"), figure.LowRank);
        check.AssertNear(check.Expected.GetProperty("u"), figure.HighRank);
        check.AssertNear(check.Expected.GetProperty("lower"), figure.Estimate.Low);
        check.AssertNear(check.Expected.GetProperty("upper"), figure.Estimate.High);
        check.AssertNear(check.Expected.GetProperty("coverage"), figure.Coverage);

        // The page's median is R's, the middle of two; ours is the value that occurred.
        Assert.Equal(36, figure.Estimate.Value);
    }

    /// <summary>59 for 95 % is the well-known one (from memory); the rest by the formula.</summary>
    [Fact]
    public void Both_ends_exist_from_the_published_numbers_on()
    {
        var check = CheckCase.Find("statistics.json", "b.pctci.min_n");
        foreach (var percent in Spread.Shown)
        {
            var expected = check.Expected.GetProperty(FormattableString.Invariant($"{percent / 100.0}"));

            Assert.Equal(
                expected.Number("equal_tail_both_finite"), Least(n => Ranks(n, percent) is (not null, not null)));
            Assert.Equal(
                expected.Number("one_sided_upper"), Least(n => new BinomialLaw(n, percent / 100.0).From(n) <= 0.05));
            Assert.Equal(
                expected.Number("two_sided_min_max"),
                Least(n => new BinomialLaw(n, percent / 100.0) is var law && law.UpTo(n - 1) - law.UpTo(0) >= 0.95));
        }

        static (int?, int?) Ranks(int n, int percent) => PercentileFigure.Of(
            new double[n], percent, FigureUnit.ElapsedDays) is var figure ? (figure.LowRank, figure.HighRank) : default;

        static int Least(Func<int, bool> isEnough) => Enumerable.Range(1, 100).First(isEnough);
    }

    [Fact]
    public void No_values_have_a_reason_and_no_figure()
    {
        var spread = Spread.Of([], FigureUnit.ElapsedDays);

        Assert.Equal(Figure.None(FigureUnit.ElapsedDays, 0, Lack.NothingCounted), spread.At(85));
        Assert.Null(spread.Min);
    }

    [Fact]
    public void The_binomial_law_is_the_sum_of_its_terms() =>
        Gen.Select(Gen.Int[0, 30], Gen.Double[0, 1], Gen.Int[-1, 31]).Sample((n, p, k) =>
        {
            var sum = Enumerable.Range(0, n + 1).Where(i => i <= k)
                .Sum(i => Choose(n, i) * Math.Pow(p, i) * Math.Pow(1 - p, n - i));
            Assert.Equal(sum, new BinomialLaw(n, p).UpTo(k), tolerance: 1e-12);
        });

    private static double Choose(int n, int k) =>
        Enumerable.Range(1, k).Aggregate(1.0, (product, i) => product * (n - k + i) / i);
}
