using CsCheck;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class DriftFiguresTests
{
    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "a.drift");

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_slopes_are_those_of_the_check_value(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var hours = check.Inputs.Numbers("lateness_days").Select(days => days * 24);
        var slots = check.Inputs.Numbers("slot_index").Select(index => (int)index);

        var drift = DriftFigures.Of([.. slots.Zip(hours)]);

        check.AssertNear(check.Expected.GetProperty("theil_sen"), drift.HoursPerSlot / 24);
        check.AssertNear(check.Expected.GetProperty("ols"), drift.LeastSquaresHoursPerSlot / 24);
        Assert.Equal(8, drift.N);
    }

    [Fact]
    public void Fewer_than_two_slots_have_no_drift()
    {
        Assert.Equal(new DriftFigures(null, null, 0), DriftFigures.Of([]));
        Assert.Equal(new DriftFigures(null, null, 1), DriftFigures.Of([(0, 5)]));
    }

    [Fact]
    public void A_history_too_long_for_all_pairs_is_thinned_evenly()
    {
        var drift = DriftFigures.Of([.. Enumerable.Range(0, 4100).Select(slot => (slot, slot * 0.5))]);

        Assert.Equal(new DriftFigures(0.5, 0.5, 4100), drift with { LeastSquaresHoursPerSlot = 0.5 });
        Assert.Equal(0.5, drift.LeastSquaresHoursPerSlot!.Value, 9);
    }

    [Fact]
    public void The_median_is_the_middle_of_the_sorted_slopes() =>
        Gen.Int[-5, 5].Array[2, 12].Sample(hours =>
        {
            var slopes = (from i in Enumerable.Range(0, hours.Length)
                          from j in Enumerable.Range(0, i)
                          select (double)(hours[i] - hours[j]) / (i - j)).Order().ToArray();
            var expected = (slopes[(slopes.Length - 1) / 2] + slopes[slopes.Length / 2]) / 2;

            var drift = DriftFigures.Of([.. hours.Select((hour, slot) => (slot, (double)hour))]);

            Assert.Equal(expected, drift.HoursPerSlot!.Value, 9);
        });
}
