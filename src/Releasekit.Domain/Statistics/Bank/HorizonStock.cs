using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// How far today's bank carries: the probability that none of the next slots is late, when the bank serves the first of
/// them and work on the next release begins now. The j-th release made serves the slot j + bank, so the sum of the
/// first j works must not pass that slot, for every j: the paths that keep below are counted, exactly.
/// </summary>
public static class HorizonStock
{
    private const int Resamples = 1_000;

    // Ranks of type 1, from 1: 2.5 % and 97.5 % of the resamples.
    private const int LowRank = Resamples / 40;
    private const int HighRank = Resamples - LowRank;

    /// <summary>By horizon, from 1 slot on: the probability that no slot up to then is late.</summary>
    /// <param name="work">What a release takes.</param>
    /// <param name="slotSteps">Steps from slot to slot, above 0; the first slot is so far away.</param>
    /// <param name="stock">Ready now.</param>
    /// <param name="slots">How many slots are looked at.</param>
    public static IReadOnlyList<double> NoneLate(WorkSteps work, int slotSteps, int stock, int slots)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(slotSteps);
        ArgumentOutOfRangeException.ThrowIfNegative(stock);
        var kept = new double[slots];
        var (sums, next) = (new double[(slots * slotSteps) + 1], new double[(slots * slotSteps) + 1]);
        var (least, most, late) = (0, 0, 0.0);
        sums[0] = 1;
        for (var slot = 1; slot <= slots; slot++)
        {
            if (slot > stock && least <= most)
            {
                var limit = slot * slotSteps;
                Array.Clear(next);
                late += Add(sums.AsSpan(least, most - least + 1), least, work, next.AsSpan(0, limit + 1));
                (sums, next) = (next, sums);
                (least, most) = (least + work.Shortest, Math.Min(limit, most + work.Longest));
            }

            // No path is left when the shortest sum is too long; the rest is rounding.
            kept[slot - 1] = least > most ? 0 : Math.Max(0, 1 - late);
        }

        return kept;
    }

    /// <summary>
    /// The smallest bank with which none of the slots is late with that probability; null when more than
    /// <see cref="StockChain.LargestStock"/> are needed, as where a release takes longer than from slot to slot and
    /// there are many slots.
    /// </summary>
    /// <param name="probability">0 to 1.</param>
    public static int? SmallestStock(WorkSteps work, int slotSteps, int slots, double probability)
    {
        // More in the bank is never less sure: halve what is in question.
        var (smallest, beyond) = (0, Math.Min(slots, StockChain.LargestStock) + 1);
        var most = beyond;
        while (smallest < beyond)
        {
            var stock = (smallest + beyond) / 2;
            var isEnough = stock >= slots || NoneLate(work, slotSteps, stock, slots)[^1] >= probability;
            (smallest, beyond) = isEnough ? (smallest, stock) : (stock + 1, beyond);
        }

        return smallest < most ? smallest : null;
    }

    /// <summary>
    /// How far the probability of the whole horizon may lie off because few past releases are known: the middle 95 % of
    /// what resamples of them give (bootstrap; Efron and Tibshirani 1993). Null under two past releases and
    /// without a slot.
    /// </summary>
    /// <param name="lengths">Of past releases, in steps.</param>
    public static (double Low, double High)? Spread(
        IReadOnlyList<double> lengths, int slotSteps, int stock, int slots, ulong seed)
    {
        if (lengths.Count < 2 || slots < 1)
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
        return (found[LowRank - 1], found[HighRank - 1]);
    }

    /// <summary>Adds one more work to the sums, which begin at the least; the share that passes the end.</summary>
    private static double Add(ReadOnlySpan<double> sums, int least, WorkSteps work, Span<double> next)
    {
        var late = 0.0;
        foreach (var (steps, share) in work.Law)
        {
            var kept = Math.Clamp(next.Length - least - steps, 0, sums.Length);
            if (kept > 0)
            {
                AddScaled(sums[..kept], share, next[(least + steps)..]);
            }

            foreach (var sum in sums[kept..])
            {
                late += sum * share;
            }
        }

        return late;
    }

    private static void AddScaled(ReadOnlySpan<double> from, double factor, Span<double> to)
    {
        to = to[..from.Length];
        for (var at = 0; at < from.Length; at++)
        {
            to[at] += from[at] * factor;
        }
    }
}
