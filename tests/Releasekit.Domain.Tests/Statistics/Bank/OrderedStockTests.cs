using CsCheck;
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
