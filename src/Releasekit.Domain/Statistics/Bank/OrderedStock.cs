namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// A bank in which late is late and not lost: each publication orders a new release, one person makes them one after
/// another. The wait of an order is a queue with one server (Lindley 1952): W' = max(0, W + C - slot). What is ordered
/// at a slot is needed so many slots later, so with S finished or in work it is on time with P(W + C ≤ S · slot). A
/// long-run figure, exact: no wait is cut off, however long single works are.
/// </summary>
public sealed class OrderedStock
{
    private readonly double[] _waits;
    private readonly WorkSteps _work;
    private readonly int _slotSteps;

    private OrderedStock(LadderHeights ladder, WorkSteps work, int slotSteps)
    {
        (_work, _slotSteps, MeanWait) = (work, slotSteps, ladder.MeanOfGreatest);
        _waits = ladder.Greatest(StockChain.LargestStock * slotSteps);
    }

    /// <summary>The share of an order that waits for nothing.</summary>
    public double NoWait => _waits[0];

    /// <summary>Steps that an order waits on average.</summary>
    public double MeanWait { get; }

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
        return LadderHeights.Of(work, slotSteps) is { } ladder ? new(ladder, work, slotSteps) : null;
    }

    /// <summary>The probability, 0 to 1, that a slot is met with so many finished or in work.</summary>
    /// <param name="stock">1 to <see cref="StockChain.LargestStock"/>.</param>
    public double OnTime(int stock)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(stock, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(stock, StockChain.LargestStock);
        var sum = 0.0;
        foreach (var (steps, share) in _work.Law)
        {
            for (var wait = 0; wait <= (stock * _slotSteps) - steps; wait++)
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
}
