namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// A bank in which late is late and not lost: each publication orders a new release, one person makes them one after
/// another. The wait of an order is a queue with one server (Lindley 1952): W' = max(0, W + C - slot). What is ordered
/// at a slot is needed so many slots later, so with S finished or in work it is on time with P(W + C ≤ S · slot). A
/// long-run figure, exact but for a tail of the wait below 1e-12.
/// </summary>
public sealed class OrderedStock
{
    private const double Negligible = 1e-12;
    private const int LongestWait = 40_000;

    private readonly double[] _waits;
    private readonly WorkSteps _work;
    private readonly int _slotSteps;

    private OrderedStock(double[] waits, WorkSteps work, int slotSteps) =>
        (_waits, _work, _slotSteps) = (waits, work, slotSteps);

    /// <summary>The share of an order that waits for nothing.</summary>
    public double NoWait => _waits[0];

    /// <summary>Steps that an order waits on average.</summary>
    public double MeanWait => _waits.Select((share, steps) => share * steps).Sum();

    /// <summary>How much of the time from slot to slot the work takes.</summary>
    public static double Load(WorkSteps work, int slotSteps) => work.Mean / slotSteps;

    /// <summary>
    /// The bank of that work; null when work takes as long as from slot to slot, or so nearly that waits never settle:
    /// <see cref="Lack.NoStockIsEnough"/>.
    /// </summary>
    /// <param name="slotSteps">Steps from slot to slot, above 0.</param>
    public static OrderedStock? Of(WorkSteps work, int slotSteps)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(slotSteps);
        if (work.Mean >= slotSteps)
        {
            return null;
        }

        for (var longest = 8 * Math.Max(work.Longest, slotSteps); longest <= LongestWait; longest *= 2)
        {
            var waits = Waits(work, slotSteps, longest);
            if (waits[^1] < Negligible)
            {
                return new(waits, work, slotSteps);
            }
        }

        return null;
    }

    /// <summary>The probability, 0 to 1, that a slot is met with so many finished or in work, at least 1.</summary>
    public double OnTime(int stock)
    {
        var sum = 0.0;
        foreach (var (steps, share) in _work.Law)
        {
            var limit = Math.Min(_waits.Length - 1, (stock * _slotSteps) - steps);
            for (var wait = 0; wait <= limit; wait++)
            {
                sum += share * _waits[wait];
            }
        }

        return Math.Min(1, sum);
    }

    /// <summary>
    /// The fewest, finished or in work, with which a slot is met with that probability, 0 to 1; null when more than
    /// <see cref="StockChain.LargestStock"/> are needed.
    /// </summary>
    public int? SmallestStock(double probability)
    {
        for (var stock = 1; stock <= StockChain.LargestStock; stock++)
        {
            if (OnTime(stock) >= probability)
            {
                return stock;
            }
        }

        return null;
    }

    /// <summary>
    /// The shares of waits from 0 to the longest, by state reduction as in <see cref="MarkovChain"/>; only states near
    /// each other touch, as a wait changes by no more than the work and the slot.
    /// </summary>
    private static double[] Waits(WorkSteps work, int slotSteps, int longest)
    {
        var (up, down) = (Math.Max(0, work.Longest - slotSteps), Math.Max(0, slotSteps - work.Law[0].Steps));
        var width = up + down + 1;
        var chain = new double[longest + 1, width];
        for (var wait = 0; wait <= longest; wait++)
        {
            foreach (var (steps, share) in work.Law)
            {
                chain[wait, Math.Clamp(wait + steps - slotSteps, 0, longest) - wait + down] += share;
            }
        }

        for (var last = longest; last > 0; last--)
        {
            var lowest = Math.Max(0, last - down);
            var leaving = 0.0;
            for (var to = lowest; to < last; to++)
            {
                leaving += chain[last, to - last + down];
            }

            for (var from = Math.Max(0, last - up); from < last && leaving > 0; from++)
            {
                var entering = chain[from, last - from + down] /= leaving;
                for (var to = Math.Max(lowest, from - down); to < last; to++)
                {
                    chain[from, to - from + down] += entering * chain[last, to - last + down];
                }
            }
        }

        return Shares(chain, up, down, longest);
    }

    private static double[] Shares(double[,] chain, int up, int down, int longest)
    {
        var shares = new double[longest + 1];
        (shares[0], var sum) = (1, 1.0);
        for (var state = 1; state <= longest; state++)
        {
            for (var from = Math.Max(0, state - up); from < state; from++)
            {
                shares[state] += shares[from] * chain[from, state - from + down];
            }

            sum += shares[state];
        }

        return [.. shares.Select(share => share / sum)];
    }
}
