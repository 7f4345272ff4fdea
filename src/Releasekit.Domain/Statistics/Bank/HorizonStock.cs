using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// How far today's bank carries: the probability that none of the next slots is late, when the bank serves the first of
/// them and work on the next release begins now. The j-th release made serves the slot j + bank, so the sum of the
/// first j works must not pass that slot, for every j: the paths that keep below are counted, exactly.
/// </summary>
public static class HorizonStock
{
    private const int Resamples = 400;
    private const double Tail = 0.025;

    /// <summary>By horizon, from 1 slot on: the probability that no slot up to then is late.</summary>
    /// <param name="work">What a release takes.</param>
    /// <param name="slotSteps">Steps from slot to slot, above 0; the first slot is so far away.</param>
    /// <param name="stock">Ready now.</param>
    /// <param name="slots">How many slots are looked at.</param>
    public static IReadOnlyList<double> NoneLate(WorkSteps work, int slotSteps, int stock, int slots)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(slotSteps);
        var kept = new double[slots];
        var sums = new double[(slots * slotSteps) + 1];
        var (reach, late) = (0, 0.0);
        sums[0] = 1;
        for (var slot = 1; slot <= slots; slot++)
        {
            if (slot > stock)
            {
                var limit = slot * slotSteps;
                sums = Added(sums, reach, work, limit, ref late);
                reach = Math.Min(limit, reach + work.Longest);
            }

            kept[slot - 1] = 1 - late;
        }

        return kept;
    }

    /// <summary>
    /// The smallest bank with which none of the slots is late with that probability; null when none is enough, as
    /// where a release takes longer than from slot to slot and there are many slots.
    /// </summary>
    /// <param name="probability">0 to 1.</param>
    public static int? SmallestStock(WorkSteps work, int slotSteps, int slots, double probability)
    {
        for (var stock = 0; stock <= Math.Min(slots, StockChain.LargestStock); stock++)
        {
            if (NoneLate(work, slotSteps, stock, slots)[^1] >= probability)
            {
                return stock;
            }
        }

        return null;
    }

    /// <summary>
    /// How far the probability of the whole horizon may lie off because few past releases are known: the middle 95 % of
    /// what resamples of them give (bootstrap; Efron and Tibshirani 1993). Null under two past releases.
    /// </summary>
    /// <param name="lengths">Of past releases, in steps.</param>
    public static (double Low, double High)? Spread(
        IReadOnlyList<double> lengths, int slotSteps, int stock, int slots, ulong seed)
    {
        if (lengths.Count < 2)
        {
            return null;
        }

        var random = new SplitMix64(seed);
        var found = new double[Resamples];
        for (var i = 0; i < Resamples; i++)
        {
            var drawn = WorkSteps.Of([.. lengths.Select(_ => lengths[random.Below(lengths.Count)])]);
            found[i] = NoneLate(drawn, slotSteps, stock, slots)[^1];
        }

        Array.Sort(found);
        return (found[(int)(Resamples * Tail)], found[^(1 + (int)(Resamples * Tail))]);
    }

    /// <param name="late">Grows by the share of paths that pass the limit with this release.</param>
    private static double[] Added(double[] sums, int reach, WorkSteps work, int limit, ref double late)
    {
        var next = new double[sums.Length];
        foreach (var (steps, share) in work.Law)
        {
            for (var sum = 0; sum <= reach; sum++)
            {
                if (sum + steps <= limit)
                {
                    next[sum + steps] += sums[sum] * share;
                }
                else
                {
                    late += sums[sum] * share;
                }
            }
        }

        return next;
    }
}
