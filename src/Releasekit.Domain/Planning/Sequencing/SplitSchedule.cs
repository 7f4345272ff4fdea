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
        List<WorkSegment> segments = [];
        new SplitRule(order).Run(_ => true, (rank, from, to) =>
        {
            Append(segments, new WorkSegment(order[rank].Key, from, to));
            return true;
        });

        return new SplitSchedule(segments);
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
