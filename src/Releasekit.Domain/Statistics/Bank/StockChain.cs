namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// A bank that holds at most so many, filled by what becomes ready from slot to slot, where a missed slot is lost:
/// B' = min(cap, max(B - 1, 0) + K), K independent from slot to slot. A long-run figure.
/// </summary>
public sealed class StockChain
{
    /// <summary>More is never kept.</summary>
    public const int LargestStock = 60;

    /// <summary>The chain of a bank.</summary>
    /// <param name="ready">By k, from 0: the probability that k become ready between two slots; sums to 1.</param>
    /// <param name="cap">The most it holds, at least 1.</param>
    public StockChain(IReadOnlyList<double> ready, int cap)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(cap, 1);
        Transitions = [.. Enumerable.Range(0, cap + 1).Select(stock => Row(ready, cap, Math.Max(stock - 1, 0)))];
        Stationary = ready[0] == 0
            ? [.. Enumerable.Range(0, cap + 1).Select(stock => stock == cap ? 1.0 : 0)]
            : MarkovChain.Stationary(Transitions);
    }

    /// <summary>By bank before a slot, then by bank before the next.</summary>
    public IReadOnlyList<IReadOnlyList<double>> Transitions { get; }

    /// <summary>The share of slots before which so many are in the bank.</summary>
    public IReadOnlyList<double> Stationary { get; }

    /// <summary>The share of slots for which nothing is there.</summary>
    public double Miss => Stationary[0];

    /// <summary>How many are in the bank before a slot, on average.</summary>
    public double MeanStock => Stationary.Select((share, stock) => share * stock).Sum();

    /// <summary>How many become ready between two slots, as often as they did.</summary>
    /// <param name="counts">One for each interval between slots, at least one.</param>
    public static IReadOnlyList<double> LawOf(IReadOnlyList<int> counts)
    {
        var law = new int[counts.Max() + 1];
        foreach (var count in counts)
        {
            law[count]++;
        }

        return [.. law.Select(times => (double)times / counts.Count)];
    }

    /// <summary>
    /// The smallest bank with which a slot is kept with that probability, 0 to 1; null when none up to
    /// <see cref="LargestStock"/> is enough.
    /// </summary>
    public static int? SmallestCap(IReadOnlyList<double> ready, double probability)
    {
        for (var cap = 1; cap <= LargestStock; cap++)
        {
            if (1 - new StockChain(ready, cap).Miss >= probability)
            {
                return cap;
            }
        }

        return null;
    }

    /// <summary>
    /// The probability that a bank and what becomes ready over so many slots are enough for all of them together,
    /// whenever it becomes ready: no plan does better.
    /// </summary>
    public static double CoversTogether(IReadOnlyList<double> ready, int stock, int slots)
    {
        double[] sums = [1];
        for (var slot = 0; slot < slots; slot++)
        {
            var next = new double[sums.Length + ready.Count - 1];
            for (var sum = 0; sum < sums.Length; sum++)
            {
                for (var more = 0; more < ready.Count; more++)
                {
                    next[sum + more] += sums[sum] * ready[more];
                }
            }

            sums = next;
        }

        return sums.Skip(Math.Max(0, slots - stock)).Sum();
    }

    private static double[] Row(IReadOnlyList<double> ready, int cap, int left)
    {
        var row = new double[cap + 1];
        for (var k = 0; k < ready.Count; k++)
        {
            row[Math.Min(cap, left + k)] += ready[k];
        }

        return row;
    }
}
