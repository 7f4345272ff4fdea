using CsCheck;
using MathNet.Numerics.Statistics;
using Percentile = Releasekit.Domain.Statistics.Percentile;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class PercentileTests
{
    // statistics.md (b), own ten values, type 1, agreed with R.
    [Theory]
    [InlineData(50, 8)]
    [InlineData(70, 11)]
    [InlineData(85, 14)]
    [InlineData(95, 21)]
    [InlineData(0, 3)]
    [InlineData(100, 21)]
    public void A_percentile_is_a_value_that_occurred(int percent, double expected) =>
        Assert.Equal(expected, Percentile.Of([3, 5, 5, 6, 8, 9, 11, 12, 14, 21], percent));

    /// <summary>Ties too. MathNet rounds where n·p is whole, so such n are left to the exact values below.</summary>
    [Fact]
    public void The_third_party_library_agrees() => Gen.Int[0, 30].Array[1, 200].Sample(numbers =>
    {
        double[] sorted = [.. numbers.Select(number => (double)number).Order()];

        foreach (var percent in new[] { 50, 70, 85, 95 })
        {
            if (sorted.Length * percent % 100 != 0)
            {
                Assert.Equal(
                    SortedArrayStatistics.QuantileCustom(sorted, percent / 100.0, QuantileDefinition.R1),
                    Percentile.Of(sorted, percent));
            }
        }
    });

    [Fact]
    public void The_seventh_percentile_of_one_to_a_hundred_is_7_though_doubles_say_8() =>
        Assert.Equal(7, Percentile.Of([.. Enumerable.Range(1, 100).Select(value => (double)value)], 7));

    [Fact]
    public void No_values_have_no_percentile_and_one_value_is_all_of_them()
    {
        Assert.Null(Percentile.Of([], 50));
        Assert.Equal(4, Percentile.Of([4], 0));
        Assert.Equal(4, Percentile.Of([4], 100));
        Assert.Throws<ArgumentOutOfRangeException>(() => Percentile.Of([4], 101));
    }
}
