using CsCheck;
using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Statistics.Bank;

namespace Releasekit.Domain.Tests.Statistics.Bank;

public sealed class StockChainTests
{
    /// <summary>Hillier and Lieberman's camera store: the solver against a textbook's chain.</summary>
    [Fact]
    public void The_solver_gives_what_the_textbook_gives()
    {
        var check = CheckCase.Find("statistics.json", "i.markov.camera_inventory");
        double[][] chain = Rows(check);

        var shares = MarkovChain.Stationary(chain);
        var weeks = MarkovChain.MeanStepsTo(chain, goal: 0);

        foreach (var (expected, share) in check.Expected.GetProperty("stationary").EnumerateArray().Zip(shares))
        {
            check.AssertNear(expected, share);
        }

        check.AssertNear(check.Expected.GetProperty("mean_weeks_to_stockout_from_3"), weeks[3]);
        check.AssertNear(check.Expected.GetProperty("from_2"), weeks[2]);
        check.AssertNear(check.Expected.GetProperty("from_1"), weeks[1]);
    }

    [Fact]
    public void A_bank_of_three_is_empty_as_often_as_the_exact_rationals_say()
    {
        var check = CheckCase.Find("statistics.json", "i.modelA.S3");

        var chain = new StockChain(Law(check), cap: 3);

        Assert.Equal(Rows(check), chain.Transitions);
        foreach (var (expected, share) in
            check.Expected.GetProperty("stationary").EnumerateArray().Zip(chain.Stationary))
        {
            check.AssertNear(expected, share);
        }

        Assert.Equal(25 / 436.0, chain.Miss, 12);
        check.AssertNear(check.Expected.GetProperty("miss_probability"), chain.Miss);
    }

    [Fact]
    public void Larger_banks_are_empty_less_often_by_the_table()
    {
        var check = CheckCase.Find("statistics.json", "i.modelA.table");
        var law = Law(check);
        var (miss, mean) = (check.Expected.GetProperty("miss"), check.Expected.GetProperty("mean_bank"));

        foreach (var (cap, at) in check.Inputs.Numbers("caps").Select((cap, at) => ((int)cap, at)))
        {
            check.AssertNear(miss[at], new StockChain(law, cap).Miss);
            Assert.Equal(mean[at].GetDouble(), new StockChain(law, cap).MeanStock, 9);
        }

        foreach (var wanted in check.Expected.GetProperty("smallest_cap").EnumerateObject())
        {
            Assert.Equal(wanted.Value.GetInt32(), StockChain.SmallestCap(law, Number(wanted.Name)));
        }
    }

    [Fact]
    public void Together_a_bank_and_the_work_cover_so_many_slots()
    {
        var check = CheckCase.Find("statistics.json", "i.newsvendor_horizon_end");

        foreach (var slots in check.Expected.EnumerateObject())
        {
            foreach (var stock in slots.Value.EnumerateObject())
            {
                check.AssertNear(
                    stock.Value,
                    StockChain.CoversTogether(Law(check), (int)Number(stock.Name), (int)Number(slots.Name)));
            }
        }
    }

    [Fact]
    public void The_share_of_missed_slots_is_what_a_long_run_shows()
    {
        var chain = new StockChain([0.3, 0.5, 0.2], cap: 4);
        var (random, stock, misses) = (new SplitMix64(3), 4, 0);
        const int blocks = 400;
        var shares = new double[blocks];

        for (var slot = 0; slot < blocks * 500; slot++)
        {
            misses += stock == 0 ? 1 : 0;
            var drawn = random.Below(10);
            stock = Math.Min(4, Math.Max(0, stock - 1) + (drawn < 3 ? 0 : drawn < 8 ? 1 : 2));

            if (slot % 500 == 499)
            {
                (shares[slot / 500], misses) = (misses / 500.0, 0);
            }
        }

        // Blocks of 500 slots are as good as independent: five standard errors of their mean.
        var mean = shares.Average();
        var error = Math.Sqrt(shares.Sum(share => Math.Pow(share - mean, 2)) / (blocks - 1) / blocks);
        Assert.InRange(mean, chain.Miss - (5 * error), chain.Miss + (5 * error));
    }

    [Fact]
    public void Nothing_made_misses_all_and_one_a_slot_misses_none() => Gen.Int[1, 20].Sample(cap =>
    {
        Assert.Equal(1, new StockChain([1.0], cap).Miss, 12);
        Assert.Equal(0, new StockChain([0, 1.0], cap).Miss, 12);
        Assert.Null(StockChain.SmallestCap([1.0], 0.5));
        Assert.Equal([0.25, 0.5, 0.25], StockChain.LawOf([0, 1, 1, 2]));
    });

    private static double[][] Rows(CheckCase check) =>
    [
        .. check.Expected.GetProperty("P").EnumerateArray()
            .Select(row => row.EnumerateArray().Select(one => one.GetDouble()).ToArray()),
    ];

    internal static double[] Law(CheckCase check) =>
        [.. check.Inputs.GetProperty("K").EnumerateObject().Select(one => one.Value.GetDouble())];

    internal static double Number(string name) =>
        double.Parse(name, System.Globalization.CultureInfo.InvariantCulture);
}
