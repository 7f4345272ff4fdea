namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>A stretch of work on one piece, on the work clock.</summary>
/// <param name="From">Included.</param>
/// <param name="To">Excluded; as <paramref name="From"/> for a piece without length.</param>
public readonly record struct WorkSegment(string Key, long From, long To);

/// <summary>
/// At every moment the work goes to the piece with the earliest modified due among those that are ready; a piece may be
/// laid aside for a more urgent one that becomes ready. No schedule has a smaller maximum lateness (Horn 1974; with
/// precedence by modified dues and readiness, Lawler 1973, Baker, Lawler, Lenstra and Rinnooy Kan 1983).
/// </summary>
/// <param name="Segments">In time order; those of one piece that touch are one.</param>
public sealed record SplitSchedule(IReadOnlyList<WorkSegment> Segments)
{
    /// <summary>
    /// The schedule; null when the pieces follow each other in a circle or something unknown, and then why, as
    /// <see cref="CriticalPath"/> says it.
    /// </summary>
    public static SplitSchedule? TryLay(IReadOnlyList<Piece> pieces, out string? fault) =>
        ActivityOrder.Of(pieces, piece => piece.Key, piece => piece.After, out fault) is { } order
            ? Lay(order)
            : null;

    /// <summary>When each piece is finished, by key.</summary>
    public IReadOnlyDictionary<string, long> Finishes()
    {
        var finishes = new Dictionary<string, long>(Segments.Count);
        foreach (var segment in Segments)
        {
            finishes[segment.Key] = segment.To;
        }

        return finishes;
    }

    /// <param name="order">Everything after all it follows.</param>
    internal static SplitSchedule Lay(IReadOnlyList<Piece> order)
    {
        var dues = EarliestDueDate.ModifiedDues(order);
        var ready = ModifiedReadiness(order);
        var coming = Enumerable.Range(0, order.Count).OrderBy(rank => ready[rank]).ToArray();
        var left = order.Select(piece => piece.Length).ToArray();
        var waiting = new PriorityQueue<int, (long Due, int Rank)>();
        List<WorkSegment> segments = [];
        var (now, next) = (0L, 0);

        while (next < coming.Length || waiting.Count > 0)
        {
            if (waiting.Count == 0)
            {
                now = Math.Max(now, ready[coming[next]]);
            }

            for (; next < coming.Length && ready[coming[next]] <= now; next++)
            {
                waiting.Enqueue(coming[next], (dues[order[coming[next]].Key], coming[next]));
            }

            var rank = waiting.Peek();
            var until = now + left[rank];
            if (next < coming.Length)
            {
                until = Math.Min(until, ready[coming[next]]);
            }

            Append(segments, new WorkSegment(order[rank].Key, now, until));
            left[rank] -= until - now;
            now = until;
            if (left[rank] == 0)
            {
                waiting.Dequeue();
            }
        }

        return new SplitSchedule(segments);
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

    private static void Append(List<WorkSegment> segments, WorkSegment segment)
    {
        if (segments.Count > 0 && segments[^1].Key == segment.Key && segments[^1].To == segment.From)
        {
            segments[^1] = segments[^1] with { To = segment.To };
            return;
        }

        segments.Add(segment);
    }
}
