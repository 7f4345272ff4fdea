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
    public void The_smallest_bank_is_the_first_that_is_enough_and_every_chance_is_one() =>
        Gen.Select(Gen.Int[0, 30].Array[1, 6], Gen.Int[1, 9], Gen.Double[0.01, 0.99]).Sample((days, slot, wanted) =>
        {
            var work = WorkSteps.Of([.. days.Select(day => (double)day)]);
            var kept = Enumerable.Range(0, 41).Select(stock => HorizonStock.NoneLate(work, slot, stock, 40)).ToArray();

            Assert.All(kept, line => Assert.All(line, chance => Assert.InRange(chance, 0, 1)));
            Assert.Equal(
                Array.FindIndex(kept, line => line[^1] >= wanted), HorizonStock.SmallestStock(work, slot, 40, wanted));
            Assert.Equal(0, HorizonStock.SmallestStock(work, slot, 0, wanted));
            Assert.Empty(HorizonStock.NoneLate(work, slot, 0, 0));
        });

    [Fact]
    public void No_bank_is_enough_when_the_first_release_takes_longer_than_the_largest_carries()
    {
        var work = WorkSteps.Of([500]);

        Assert.Null(HorizonStock.SmallestStock(work, 7, 104, 0.5));
        Assert.Equal(0, HorizonStock.NoneLate(work, 7, StockChain.LargestStock, 104)[^1]);
        Assert.Equal(1, HorizonStock.NoneLate(work, 7, StockChain.LargestStock, 60)[^1]);
    }

    [Fact]
    public void It_agrees_with_what_is_drawn_from_any_work()
    {
        var random = new SplitMix64(11);
        for (var law = 0; law < 8; law++)
        {
            double[] days = [.. Enumerable.Range(0, 1 + random.Below(6)).Select(_ => (double)random.Below(15))];
            var stock = random.Below(4);
            var exact = HorizonStock.NoneLate(WorkSteps.Of(days), 7, stock, slots: 9)[^1];
            var kept = 0;

            for (var trial = 0; trial < 20_000; trial++)
            {
                var (sum, isKept) = (0.0, true);
                for (var slot = stock + 1; slot <= 9; slot++)
                {
                    sum += days[random.Below(days.Length)];
                    isKept &= sum <= slot * 7;
                }

                kept += isKept ? 1 : 0;
            }

            Forecast.Ahead.AssertNear(exact, kept, 20_000);
        }
    }

    /// <summary>Of one slot without a bank the resamples are binomial: quantiles 3 and 9 of (10, 0.6), 0 and 2 of
    /// (2, 1/2).</summary>
    [Fact]
    public void The_spread_of_a_single_slot_is_binomial()
    {
        double[] ten = [5, 5, 5, 5, 5, 5, 12, 12, 12, 12];

        var (low, high) = HorizonStock.Spread(ten, 7, stock: 0, slots: 1, seed: 3)!.Value;

        Assert.Equal(0.3, low, 9);
        Assert.Equal(0.9, high, 9);
        Assert.Equal((0, 1), HorizonStock.Spread([5, 12], 7, stock: 0, slots: 1, seed: 3));
        Assert.Equal((1, 1), HorizonStock.Spread([5, 5], 7, stock: 0, slots: 9, seed: 3));
        Assert.Null(HorizonStock.Spread(ten, 7, stock: 0, slots: 0, seed: 3));
    }

    [Fact]
    public void Begun_days_count_whole_and_few_past_releases_spread_wide()
    {
        Assert.Equal([(1, 0.5), (7, 0.5)], WorkSteps.Of([0.3, 7.0]).Law);
        Assert.Throws<ArgumentException>(() => WorkSteps.Of([]));
        Assert.Throws<ArgumentOutOfRangeException>(() => WorkSteps.Of([3, -2]));
        Assert.Null(HorizonStock.Spread([5], 7, 1, 12, seed: 1));

        var few = HorizonStock.Spread([5, 6, 8, 12], 7, 1, 12, seed: 1)!.Value;
        double[] ten = [5, 5, 5, 5, 6, 6, 6, 8, 8, 12];
        var many = HorizonStock.Spread(
            [.. Enumerable.Repeat(ten, 20).SelectMany(one => one)], 7, 1, 12, seed: 1)!.Value;

        Assert.True(few.High - few.Low > many.High - many.Low);
        Assert.InRange(0.88082083476, many.Low, many.High);
    }
}
