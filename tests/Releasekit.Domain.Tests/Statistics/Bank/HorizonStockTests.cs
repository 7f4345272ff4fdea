using CsCheck;
using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Statistics.Bank;
using static Releasekit.Domain.Tests.Statistics.Bank.OrderedStockTests;

namespace Releasekit.Domain.Tests.Statistics.Bank;

public sealed class HorizonStockTests
{
    [Fact]
    public void Todays_bank_carries_as_far_as_the_exact_paths_say()
    {
        var check = CheckCase.Find("statistics.json", "i.modelC.finite_horizon");
        var work = WorkOf(check);

        for (var stock = 0; stock <= 5; stock++)
        {
            var kept = HorizonStock.NoneLate(work, 7, stock, 12);
            foreach (var (expected, none) in check.Expected.GetProperty($"bank{stock}").EnumerateArray().Zip(kept))
            {
                check.AssertNear(expected, none);
            }
        }

        Assert.Equal(1, HorizonStock.SmallestStock(work, 7, 12, 0.85));
        Assert.Equal(2, HorizonStock.SmallestStock(work, 7, 12, 0.98));
        Assert.Equal(3, HorizonStock.SmallestStock(work, 7, 12, 0.99));
    }

    [Fact]
    public void More_in_the_bank_carries_further_and_a_longer_way_is_less_sure() =>
        Gen.Select(Gen.Int[1, 20].Array[1, 6], Gen.Int[1, 9]).Sample((days, slot) =>
        {
            var work = WorkSteps.Of([.. days.Select(day => (double)day)]);
            var kept = Enumerable.Range(0, 8).Select(stock => HorizonStock.NoneLate(work, slot, stock, 10)).ToArray();

            Assert.All(kept, line => Assert.All(
                line.Zip(line.Skip(1)), next => Assert.True(next.Second <= next.First + 1e-12)));
            Assert.All(kept.Zip(kept.Skip(1)), more => Assert.All(
                more.First.Zip(more.Second), at => Assert.True(at.Second >= at.First - 1e-12)));
        });

    [Fact]
    public void It_agrees_with_what_is_drawn()
    {
        double[] days = [3, 5, 5, 9, 14];
        var exact = HorizonStock.NoneLate(WorkSteps.Of(days), 7, stock: 2, slots: 9)[^1];
        var (random, kept) = (new SplitMix64(11), 0);

        for (var trial = 0; trial < 20_000; trial++)
        {
            var (sum, isKept) = (0.0, true);
            for (var slot = 3; slot <= 9; slot++)
            {
                sum += days[random.Below(days.Length)];
                isKept &= sum <= slot * 7;
            }

            kept += isKept ? 1 : 0;
        }

        Forecast.Ahead.AssertNear(exact, kept, 20_000);
    }

    [Fact]
    public void Begun_days_count_whole_and_few_past_releases_spread_wide()
    {
        Assert.Equal([(1, 0.5), (7, 0.5)], WorkSteps.Of([0.3, 7.0]).Law);
        Assert.Throws<ArgumentException>(() => WorkSteps.Of([]));
        Assert.Null(HorizonStock.Spread([5], 7, 1, 12, seed: 1));

        var few = HorizonStock.Spread([5, 6, 8, 12], 7, 1, 12, seed: 1)!.Value;
        double[] ten = [5, 5, 5, 5, 6, 6, 6, 8, 8, 12];
        var many = HorizonStock.Spread(
            [.. Enumerable.Repeat(ten, 20).SelectMany(one => one)], 7, 1, 12, seed: 1)!.Value;

        Assert.True(few.High - few.Low > many.High - many.Low);
        Assert.InRange(0.88082083476, many.Low, many.High);
    }
}
