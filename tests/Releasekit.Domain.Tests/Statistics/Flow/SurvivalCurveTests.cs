using System.Text.Json;
using CsCheck;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Tests.Statistics.Flow;

public sealed class SurvivalCurveTests
{
    private const double Z = 1.959963984540054;

    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "b.km.");

    /// <summary>Among them the 6-MP arm of Freireich 1963 (MASS::gehan) with the digits of R's survfit.</summary>
    [Theory]
    [MemberData(nameof(Cases))]
    public void The_curve_is_that_of_the_check(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var curve = SurvivalCurve.Of(Followed(check));
        if (check.Expected.TryGetProperty("rows", out var rows))
        {
            Assert.Equal(rows.GetArrayLength(), curve.Steps.Count);
            Assert.All(rows.EnumerateArray().Zip(curve.Steps), pair => AssertStep(check, pair.First, pair.Second));
            check.AssertNear(check.Expected.GetProperty("median"), curve.At(50, FigureUnit.ElapsedDays).Value);
        }

        AssertFigure("q25", 25);
        AssertFigure("q75", 75);
        AssertFigure("km_median", 50);
        AssertFigure("km_p70", 70);
        AssertFigure("km_p85", 85);
        AssertValue("rmst_35", curve.MeanUpTo(35));
        AssertValue("mean", curve.MeanUpTo(curve.LongestFollowed ?? 0));

        void AssertFigure(string name, int percent) =>
            AssertValue(name, curve.At(percent, FigureUnit.ElapsedDays).Value);

        void AssertValue(string name, double? actual)
        {
            if (check.Expected.TryGetProperty(name, out var expected))
            {
                check.AssertNear(expected, actual);
            }
        }
    }

    /// <summary>Own numbers: 8 finished, 4 still open.</summary>
    [Fact]
    public void What_is_still_open_makes_the_figures_longer_than_the_finished_alone()
    {
        var check = CheckCase.Find("statistics.json", "b.km.releases_bias");
        double[] finished = check.Inputs.Numbers("finished");

        var curve = SurvivalCurve.Of(Followed(check));

        Assert.Equal(check.Expected.Number("naive_median_type1"), Percentile.Of(finished, 50));
        Assert.Equal(check.Expected.Number("naive_p85_type1"), Percentile.Of(finished, 85));
        Assert.Equal(check.Expected.Numbers("t"), curve.Steps.Select(step => step.Time));
        Assert.All(check.Expected.Numbers("S").Zip(curve.Steps), pair =>
            Assert.Equal(pair.First, pair.Second.Open, check.Tolerance));
        Assert.Equal(
            (Lack.Censored, Lack.NoFiniteBound),
            (curve.At(85, FigureUnit.ElapsedDays).Missing, curve.At(85, FigureUnit.ElapsedDays).HighMissing));
        Assert.Equal(20, curve.LongestFollowed);
    }

    [Fact]
    public void Without_anything_open_it_is_the_share_that_took_longer_and_its_percentiles_are_type_1() =>
        Gen.Select(Gen.Int[1, 9].Array[1, 40], Gen.Int[1, 99]).Sample((times, percent) =>
        {
            var curve = SurvivalCurve.Of(times.Select(time => new FollowedTime(time, true)));

            Assert.All(curve.Steps, step => Assert.Equal(
                times.Count(time => time > step.Time) / (double)times.Length, step.Open, 12));
            Assert.Equal(
                Percentile.Of([.. times.Select(time => (double)time).Order()], percent),
                curve.At(percent, FigureUnit.ElapsedDays).Value);
        });

    [Fact]
    public void The_curve_never_rises_and_lies_inside_its_interval() =>
        Gen.Select(Gen.Int[1, 20], Gen.Bool).Array[0, 40].Sample(times =>
        {
            var curve = SurvivalCurve.Of(times.Select(time => new FollowedTime(time.Item1, time.Item2)));

            Assert.Equal(curve.Steps.OrderByDescending(step => step.Open), curve.Steps);
            Assert.All(curve.Steps.Where(step => step.Open > 0), step => Assert.True(
                0 <= step.Low && step.Low <= step.Open && step.Open <= step.High && step.High <= 1));
        });

    private static IEnumerable<FollowedTime> Followed(CheckCase check) =>
        check.Inputs.TryGetProperty("time", out _)
            ? check.Inputs.Numbers("time").Zip(
                check.Inputs.Numbers("event"), (time, happened) => new FollowedTime(time, happened == 1))
            : check.Inputs.Numbers("finished").Select(time => new FollowedTime(time, true))
                .Concat(check.Inputs.Numbers("open_age").Select(time => new FollowedTime(time, false)));

    private static void AssertStep(CheckCase check, JsonElement row, SurvivalStep step)
    {
        Assert.Equal(
            (row.Number("t"), row.Number("at_risk"), row.Number("events")),
            (step.Time, step.AtRisk, step.Finished));
        check.AssertNear(row.GetProperty("S"), step.Open);
        if (row.TryGetProperty("se", out var error))
        {
            var half = Z * step.StandardError;
            check.AssertNear(error, step.StandardError);
            AssertBetween("ci_loglog", step.Low!.Value, step.High!.Value);

            // The two other scales R offers are not shown; they follow from the error.
            AssertBetween("ci_plain", step.Open - half, step.Open + half);
            AssertBetween("ci_log", step.Open * Math.Exp(-half / step.Open), step.Open * Math.Exp(half / step.Open));
        }

        void AssertBetween(string name, double low, double high)
        {
            check.AssertNear(row.GetProperty(name)[0], Math.Max(0, low));
            check.AssertNear(row.GetProperty(name)[1], Math.Min(1, high));
        }
    }
}
