using CsCheck;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class WilsonIntervalTests
{
    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "a.wilson.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_interval_is_the_published_one(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var (k, n) = (check.Inputs.GetProperty("k").GetInt32(), check.Inputs.GetProperty("n").GetInt32());

        var estimate = ProportionEstimate.Of(k, n);

        check.AssertNear(check.Expected.GetProperty("lower"), estimate.Low);
        check.AssertNear(check.Expected.GetProperty("upper"), estimate.High);
        Assert.Equal(n == 0 ? null : (double)k / n, estimate.Value);
        Assert.Equal(n, estimate.N);
        if (check.Published is { } printed)
        {
            Assert.Equal([.. printed.EnumerateArray().Select(item => item.GetDouble())],
                new[] { Math.Round(estimate.Low, 4), Math.Round(estimate.High, 4) });
        }
    }

    [Fact]
    public void The_share_lies_inside_its_interval_and_the_interval_between_0_and_1() =>
        Gen.Select(Gen.Int[0, 2000], Gen.Int[1, 2000]).Where((k, n) => k <= n).Sample((k, n) =>
        {
            var (value, low, high, _) = ProportionEstimate.Of(k, n);
            Assert.True(0 <= low && low <= value && value <= high && high <= 1);
        });

    [Fact]
    public void More_successes_than_trials_is_a_mistake_of_the_caller()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ProportionEstimate.Of(2, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => ProportionEstimate.Of(-1, 1));
    }
}
