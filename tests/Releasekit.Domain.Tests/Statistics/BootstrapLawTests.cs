using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class BootstrapLawTests
{
    /// <summary>Cholesterol decrease of nine men, from a page of Stanford's statistics (data opened).</summary>
    [Fact]
    public void The_law_of_the_median_is_exact_without_drawing()
    {
        var check = CheckCase.Find("statistics.json", "b.boot.median_exact9");
        double[] sorted = [.. check.Inputs.Numbers("data").Order()];

        var law = BootstrapLaw.OfRank(sorted, 5);

        Assert.Equal(check.Expected.Numbers("support"), law.Support);
        Assert.All(check.Expected.Numbers("prob").Index(), expected =>
            Assert.Equal(expected.Item, law.ChanceOf(expected.Index), check.Tolerance));
        check.AssertNear(check.Expected.GetProperty("mean"), law.Mean);
        check.AssertNear(check.Expected.GetProperty("se"), law.StandardError);
    }

    /// <summary>Efron and Tibshirani 1993, table 2.2, from memory: 23.36 and 37.83 without end of drawing.</summary>
    [Fact]
    public void The_errors_of_the_mouse_data_are_the_printed_ones()
    {
        var check = CheckCase.Find("statistics.json", "b.boot.mouse");
        double[] sorted = [.. check.Inputs.Numbers("data").Order()];

        check.AssertNear(check.Expected.GetProperty("se_mean"), BootstrapLaw.StandardErrorOfMean(sorted));
        check.AssertNear(check.Expected.GetProperty("se_median"), BootstrapLaw.OfRank(sorted, 4).StandardError);
        Assert.Null(BootstrapLaw.StandardErrorOfMean([]));
    }

    [Fact]
    public void The_interval_of_a_high_percentile_is_that_of_its_rank()
    {
        var check = CheckCase.Find("statistics.json", "b.boot.p85_type1_n10");

        var law = BootstrapLaw.OfRank(check.Inputs.Numbers("data"), 9);

        Assert.All(check.Expected.Numbers("cdf").Index(), expected =>
            Assert.Equal(expected.Item, law.UpTo[expected.Index], check.Tolerance));
        check.AssertNear(check.Expected.GetProperty("lower"), law.Quantile(0.025));
        check.AssertNear(check.Expected.GetProperty("upper"), law.Quantile(0.975));
    }

    [Fact]
    public void A_seeded_bootstrap_comes_within_its_own_error_of_the_law()
    {
        const int draws = 20_000;
        double[] sorted = [16, 23, 38, 94, 99, 141, 197];
        var numbers = new SplitMix64(1);
        var counts = new int[7];
        for (var draw = 0; draw < draws; draw++)
        {
            int[] resample = [.. Enumerable.Range(0, 7).Select(_ => numbers.Below(7)).Order()];
            counts[resample[3]]++;
        }

        var law = BootstrapLaw.OfRank(sorted, 4);

        Assert.All(counts.Index(), count => Assert.InRange(
            Math.Abs((double)count.Item / draws - law.ChanceOf(count.Index)),
            0,
            5 * Math.Sqrt(law.ChanceOf(count.Index) * (1 - law.ChanceOf(count.Index)) / draws)));
    }
}
