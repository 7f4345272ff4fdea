using CsCheck;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Domain.Tests.Statistics.Forecast;

public sealed class ThroughputLawTests
{
    /// <summary>Own exact dynamic programming; the second is the negative binomial of the text books.</summary>
    [Theory]
    [InlineData("g.throughput_days")]
    [InlineData("g.throughput_negative_binomial")]
    public void The_law_of_the_time_needed_is_exact(string id)
    {
        var check = CheckCase.Find("statistics.json", id);
        var law = Law(check);
        var releases = check.Inputs.GetProperty("remaining").GetInt32();

        foreach (var within in check.Expected.GetProperty("cdf").EnumerateObject())
        {
            Assert.Equal(within.Value.GetDouble(), law.ChanceWithin(releases, int.Parse(within.Name, null)), 1e-11);
        }

        foreach (var percent in Spread.Shown.Where(percent => check.Expected.TryGetProperty($"P{percent}", out _)))
        {
            Assert.Equal(check.Expected.GetProperty($"P{percent}").GetInt32(), law.PeriodsFor(releases, percent));
        }
    }

    [Fact]
    public void How_many_by_a_date_is_told_from_the_lower_tail()
    {
        var check = CheckCase.Find("statistics.json", "g.how_many_by_date");
        foreach (var horizon in check.Expected.EnumerateObject())
        {
            var days = int.Parse(horizon.Name, null);

            Assert.All(
                horizon.Value.GetProperty("pmf").EnumerateObject().Zip(Law(check).CountIn(days)),
                pair => check.AssertNear(pair.First.Value, pair.Second));
            Assert.Equal(horizon.Value.GetProperty("k50").GetInt32(), Law(check).AtLeast(days, 50));
            Assert.Equal(horizon.Value.GetProperty("k85").GetInt32(), Law(check).AtLeast(days, 85));
        }
    }

    [Fact]
    public void What_never_finishes_or_is_hardly_known_is_not_forecast()
    {
        Assert.Equal(Lack.NothingToCompare, new ThroughputLaw([0, 0, 0, 0, 0]).Missing);
        Assert.Null(new ThroughputLaw([0, 0, 0, 0, 0]).PeriodsFor(1, 50));
        Assert.Equal(Lack.TooFewPast, new ThroughputLaw([1, 1, 1, 1]).Missing);
        Assert.Null(new ThroughputLaw([1, 1, 1, 1]).AtLeast(3, 50));
        Assert.Equal(0, new ThroughputLaw([1, 1, 1, 1, 1]).PeriodsFor(0, 85));
        Assert.Equal(3, new ThroughputLaw([1, 1, 1, 1, 1]).PeriodsFor(3, 85));
    }

    [Fact]
    public void Both_questions_have_one_answer() =>
        Gen.Select(Gen.Int[0, 3].Array[5, 9], Gen.Int[1, 6], Gen.Int[1, 8]).Sample((counts, releases, periods) =>
        {
            var law = new ThroughputLaw(counts);
            if (law.Missing is null)
            {
                Assert.Equal(law.AtLeast(periods, 85) >= releases, law.PeriodsFor(releases, 85) <= periods);
            }
        });

    private static ThroughputLaw Law(CheckCase check) =>
        new([.. check.Inputs.Numbers("daily_throughput").Select(count => (int)count)]);
}
