using CsCheck;
using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Statistics.Bank;
using static Releasekit.Domain.Tests.Statistics.Bank.StockChainTests;

namespace Releasekit.Domain.Tests.Statistics.Bank;

public sealed class OrderedStockTests
{
    [Fact]
    public void The_queue_of_a_weekly_series_is_on_time_as_often_as_published()
    {
        var check = CheckCase.Find("statistics.json", "i.modelB.dgi1");
        var work = WorkOf(check);

        var stock = OrderedStock.Of(work, slotSteps: 7)!;

        check.AssertNear(check.Expected.GetProperty("utilisation"), OrderedStock.Load(work, 7));
        check.AssertNear(check.Expected.GetProperty("wait_zero"), stock.NoWait);
        check.AssertNear(check.Expected.GetProperty("wait_mean"), stock.MeanWait);
        AssertOnTime(check, stock);
    }

    /// <summary>σ = (1 - q + qσ)^7, on time 1 - σ^S: the classical result for geometric work.</summary>
    [Fact]
    public void With_geometric_work_it_agrees_with_the_closed_form()
    {
        var check = CheckCase.Find("statistics.json", "i.modelB.geometric_closed_form");
        const double q = 1 / 6.0;
        var sigma = 0.5;
        for (var i = 0; i < 500; i++)
        {
            sigma = Math.Pow(1 - q + (q * sigma), 7);
        }

        // Longer than 200 days with (5/6)^200 = 1e-16.
        var work = WorkSteps.OfShares(Enumerable.Range(1, 200).Select(days => (days, q * Math.Pow(1 - q, days - 1))));
        var stock = OrderedStock.Of(work, slotSteps: 7)!;

        check.AssertNear(check.Expected.GetProperty("sigma"), sigma);
        AssertOnTime(check, stock);
        Assert.All(Enumerable.Range(1, 12), s => Assert.Equal(1 - Math.Pow(sigma, s), stock.OnTime(s), 9));
    }

    [Fact]
    public void Where_the_work_takes_as_long_as_from_slot_to_slot_no_bank_is_enough()
    {
        Assert.Null(OrderedStock.Of(WorkSteps.Of([7, 7]), 7));
        Assert.Null(OrderedStock.Of(WorkSteps.Of([2, 30]), 7));
        Assert.Equal(1, OrderedStock.Of(WorkSteps.Of([6, 5.2]), 7)!.OnTime(1), 12);
    }

    /// <summary>The wait is distributed as the greatest height of the walk (Lindley 1952), here of 400 steps.</summary>
    [Fact]
    public void It_agrees_with_walks_that_are_drawn_from_any_work()
    {
        var random = new SplitMix64(17);
        for (var law = 0; law < 6; law++)
        {
            var days = Below(load: 0.75, random);
            var heights = Enumerable.Range(0, 4_000).Select(_ => GreatestHeight(days, random)).ToArray();
            var stock = OrderedStock.Of(WorkSteps.Of(days), 7)!;

            Forecast.Ahead.AssertNear(stock.NoWait, heights.Count(height => height == 0), heights.Length);
            for (var s = 1; s <= 3; s++)
            {
                var onTime = heights.Count(height => height + days[random.Below(days.Length)] <= s * 7);
                Forecast.Ahead.AssertNear(stock.OnTime(s), onTime, heights.Length);
            }
        }
    }

    /// <summary>The chain of waits cut off at 200 days, solved by the solver of the camera store.</summary>
    [Fact]
    public void It_agrees_with_the_chain_of_waits()
    {
        var random = new SplitMix64(29);
        for (var law = 0; law < 6; law++)
        {
            var days = Below(load: 0.8, random);
            var chain = Enumerable.Range(0, 201).Select(_ => new double[201]).ToArray();
            foreach (var (row, wait) in chain.Select((row, wait) => (row, wait)))
            {
                Array.ForEach(days, day => row[Math.Clamp(wait + (int)day - 7, 0, 200)] += 1.0 / days.Length);
            }

            var waits = MarkovChain.Stationary(chain);
            var stock = OrderedStock.Of(WorkSteps.Of(days), 7)!;

            Assert.Equal(waits[0], stock.NoWait, 9);
            Assert.Equal(waits.Select((share, wait) => share * wait).Sum(), stock.MeanWait, 6);
        }
    }

    /// <summary>No wait is longer on average than variance / (2 · room): Kingman 1962, from memory.</summary>
    [Theory]
    [InlineData(400, 0.570)]
    [InlineData(1000, 0.784)]
    public void One_release_that_took_a_year_or_more_does_not_hide_the_answer(int days, double load)
    {
        double[] quarters = [.. Enumerable.Repeat(12.0, 400), days * 4];
        var work = WorkSteps.Of(quarters);

        var stock = OrderedStock.Of(work, slotSteps: 28)!;

        var variance = quarters.Sum(one => Math.Pow(one - work.Mean, 2)) / quarters.Length;
        Assert.Equal(load, OrderedStock.Load(work, 28), 3);
        Assert.InRange(stock.MeanWait, variance / (2 * (28 - work.Mean)) * 0.9, variance / (2 * (28 - work.Mean)));
        Assert.InRange(stock.OnTime(1), 0.01, stock.NoWait);
        Assert.InRange(stock.OnTime(StockChain.LargestStock), stock.OnTime(1), 1);
    }

    [Fact]
    public void More_in_stock_is_never_less_often_on_time() => Gen.Int[1, 12].Array[1, 8].Sample(days =>
    {
        if (OrderedStock.Of(WorkSteps.Of([.. days.Select(day => (double)day)]), 7) is { } stock)
        {
            var onTime = Enumerable.Range(1, 20).Select(stock.OnTime).ToArray();
            Assert.All(onTime.Zip(onTime.Skip(1)), pair => Assert.True(pair.Second >= pair.First - 1e-12));
            Assert.InRange(onTime[^1], 0, 1);
        }
    });

    internal static WorkSteps WorkOf(CheckCase check) => WorkSteps.OfShares(
        check.Inputs.GetProperty("work_days").EnumerateObject()
            .Select(one => ((int)Number(one.Name), one.Value.GetDouble())));

    /// <summary>Days of one to six releases, short of that load of a week.</summary>
    private static double[] Below(double load, SplitMix64 random)
    {
        while (true)
        {
            double[] days = [.. Enumerable.Range(0, 1 + random.Below(6)).Select(_ => (double)random.Below(15))];
            if (days.Average() <= 7 * load && days.Max() > 7)
            {
                return days;
            }
        }
    }

    private static double GreatestHeight(double[] days, SplitMix64 random)
    {
        var (height, greatest) = (0.0, 0.0);
        for (var step = 0; step < 400; step++)
        {
            height += days[random.Below(days.Length)] - 7;
            greatest = Math.Max(greatest, height);
        }

        return greatest;
    }

    private static void AssertOnTime(CheckCase check, OrderedStock stock)
    {
        foreach (var expected in check.Expected.GetProperty("on_time").EnumerateObject())
        {
            check.AssertNear(expected.Value, stock.OnTime((int)Number(expected.Name)));
        }

        foreach (var wanted in check.Expected.GetProperty("smallest_bank").EnumerateObject())
        {
            Assert.Equal(wanted.Value.GetInt32(), stock.SmallestStock(Number(wanted.Name)));
        }
    }
}
