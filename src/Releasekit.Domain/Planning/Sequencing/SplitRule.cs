namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>The rule of <see cref="SplitSchedule"/>, prepared once and then run over all pieces or some.</summary>
internal sealed class SplitRule
{
    private readonly long[] _lengths;
    private readonly long[] _dues;
    private readonly long[] _ready;

    /// <summary>Ranks (places in the order given) by readiness.</summary>
    private readonly int[] _coming;

    /// <param name="order">Everything after all it follows.</param>
    public SplitRule(IReadOnlyList<Piece> order)
    {
        var dues = EarliestDueDate.ModifiedDues(order);
        _lengths = [.. order.Select(piece => piece.Length)];
        _dues = [.. order.Select(piece => dues[piece.Key])];
        _ready = ModifiedReadiness(order);
        _coming = [.. Enumerable.Range(0, order.Count).OrderBy(rank => _ready[rank])];
    }

    /// <param name="isMeant">Which ranks to do; nothing meant may follow what is not.</param>
    /// <param name="goesOn">
    /// Told every stretch of work in time order: rank, beginning, end; false stops the run.
    /// </param>
    public void Run(Func<int, bool> isMeant, Func<int, long, long, bool> goesOn)
    {
        int[] coming = [.. _coming.Where(isMeant)];
        var left = (long[])_lengths.Clone();
        var waiting = new PriorityQueue<int, (long Due, int Rank)>();
        var (now, next) = (0L, 0);

        while (next < coming.Length || waiting.Count > 0)
        {
            if (waiting.Count == 0)
            {
                now = Math.Max(now, _ready[coming[next]]);
            }

            for (; next < coming.Length && _ready[coming[next]] <= now; next++)
            {
                waiting.Enqueue(coming[next], (_dues[coming[next]], coming[next]));
            }

            var rank = waiting.Peek();
            var until = next < coming.Length ? Math.Min(now + left[rank], _ready[coming[next]]) : now + left[rank];

            if (!goesOn(rank, now, until))
            {
                return;
            }

            left[rank] -= until - now;
            now = until;
            if (left[rank] == 0)
            {
                waiting.Dequeue();
            }
        }
    }

    /// <summary>Not before all it follows could have been done.</summary>
    private static long[] ModifiedReadiness(IReadOnlyList<Piece> order)
    {
        var done = new Dictionary<string, long>(order.Count);
        var ready = new long[order.Count];
        for (var rank = 0; rank < order.Count; rank++)
        {
            ready[rank] = order[rank].After.Aggregate(order[rank].ReadyAt, (at, before) => Math.Max(at, done[before]));
            done[order[rank].Key] = ready[rank] + order[rank].Length;
        }

        return ready;
    }
}
