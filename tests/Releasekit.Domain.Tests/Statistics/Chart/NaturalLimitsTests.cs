using CsCheck;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Chart;

namespace Releasekit.Domain.Tests.Statistics.Chart;

public sealed class NaturalLimitsTests
{
    private const double MedianOfHalfNormal = 0.953872552417;

    public static TheoryData<string, string> Edges => CheckCase.Rows("statistics.json", "c.limits.");

    /// <summary>Closed forms; printed 2.66, 3.267 (NIST 6.3.2.1, Montgomery), 3.268 (Wheeler, from memory).</summary>
    [Fact]
    public void The_constants_are_the_exact_ones()
    {
        var check = CheckCase.Find("statistics.json", "c.constants");

        check.AssertNear(check.Expected.GetProperty("d2"), NaturalLimits.D2);
        check.AssertNear(check.Expected.GetProperty("d3"), NaturalLimits.D3);
        check.AssertNear(check.Expected.GetProperty("e2"), NaturalLimits.E2);
        check.AssertNear(check.Expected.GetProperty("d4"), NaturalLimits.D4);

        // The variant by the median of the ranges is not offered; its constants follow from ours.
        check.AssertNear(check.Expected.GetProperty("median_mr_e5"), 3 / MedianOfHalfNormal);
        check.AssertNear(
            check.Expected.GetProperty("median_mr_d6"),
            (NaturalLimits.D2 + 3 * NaturalLimits.D3) / MedianOfHalfNormal);
    }

    [Theory]
    [MemberData(nameof(Edges))]
    public void Limits_at_the_edges_are_missing_with_a_reason(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);

        var limits = NaturalLimits.Of(check.Inputs.Numbers("data"));

        AssertLimits(check, check.Expected, limits);
        Assert.Equal(
            limits.N switch
            {
                0 => Lack.NothingCounted,
                1 => Lack.FewerThanTwo,
                4 => Lack.NoVariation,
                _ => null,
            },
            limits.Missing);
        Assert.True(limits.IsProvisional);
    }

    /// <summary>
    /// NIST/SEMATECH e-Handbook 6.3.2.2 (second-hand), flow rate: limits 45.8159 and 55.8041 by 3/1.128; and SAS/QC
    /// User's Guide (opened), 30 tires: 23.8571, 24.0083, 24.1596, .056897, .18585, .050423.
    /// </summary>
    [Theory]
    [InlineData("c.nist_flowrate", 4)]
    [InlineData("c.sas_tires", 4)]
    public void Published_charts_have_the_exact_limits_and_no_signals(string id, int rules)
    {
        var check = CheckCase.Find("statistics.json", id);
        var values = check.Inputs.Numbers("data");

        var limits = NaturalLimits.Of(values);

        AssertLimits(check, check.Expected.GetProperty("limits").GetProperty("exact"), limits);
        Assert.False(limits.IsProvisional);
        Assert.Equal(rules, DetectionRules.Texts.Count);
        Assert.Empty(DetectionRules.Find(values, limits.Mean!.Value, limits.Sigma!.Value));
        foreach (var printed in check.Expected.GetProperty("limits").EnumerateObject())
        {
            // Whatever constants were printed, the centre and the mean range are the same.
            Assert.Equal(printed.Value.Number("mean"), limits.Mean.Value, check.Tolerance);
            Assert.Equal(printed.Value.Number("mr_bar"), limits.MeanRange!.Value, check.Tolerance);
        }
    }

    [Fact]
    public void The_manual_of_the_tires_agrees_to_every_printed_digit()
    {
        var limits = NaturalLimits.Of(CheckCase.Find("statistics.json", "c.sas_tires").Inputs.Numbers("data"));

        Assert.Equal(
            (23.8571, 24.0083, 24.1596, 0.056897, 0.18585, 0.050423),
            (Math.Round(limits.Lower!.Value, 4), Math.Round(limits.Mean!.Value, 4), Math.Round(limits.Upper!.Value, 4),
                Math.Round(limits.MeanRange!.Value, 6), Math.Round(limits.RangeLimit!.Value, 5),
                Math.Round(limits.Sigma!.Value, 6)));
    }

    [Fact]
    public void Limits_move_with_the_values() =>
        Gen.Select(Gen.Double[-50, 50].Array[2, 30], Gen.Double[-9, 9]).Sample((values, by) =>
        {
            var (here, there) = (NaturalLimits.Of(values), NaturalLimits.Of([.. values.Select(value => value + by)]));

            Assert.Equal(here.Upper!.Value + by, there.Upper!.Value, 9);
            Assert.Equal(here.Upper.Value - here.Mean!.Value, here.Mean.Value - here.Lower!.Value, 9);
            Assert.Equal(3 * here.Sigma!.Value, here.Upper.Value - here.Mean.Value, 9);
        });

    internal static void AssertLimits(CheckCase check, System.Text.Json.JsonElement expected, NaturalLimits limits)
    {
        Assert.Equal(expected.Number("n"), limits.N);
        check.AssertNear(expected.GetProperty("mean"), limits.Mean);
        check.AssertNear(expected.GetProperty("mr_bar"), limits.MeanRange);
        check.AssertNear(expected.GetProperty("lnpl"), limits.Lower);
        check.AssertNear(expected.GetProperty("unpl"), limits.Upper);
        check.AssertNear(expected.GetProperty("url"), limits.RangeLimit);
        check.AssertNear(expected.GetProperty("sigma"), limits.Sigma);
    }
}
