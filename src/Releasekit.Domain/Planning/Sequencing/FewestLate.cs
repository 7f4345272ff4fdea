namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// The order with the fewest late pieces, all ready at once: by due, and whenever one would be late the longest so
/// far is put last (Moore 1968, Hodgson). Which pieces are late is often not unique, how many is. It sacrifices the
/// big ones: to be shown, never applied.
/// </summary>
/// <param name="OnTime">In working order.</param>
/// <param name="Late">In the order they were given up; to be done after the others, if at all.</param>
public sealed record FewestLate(IReadOnlyList<Piece> OnTime, IReadOnlyList<Piece> Late)
{
    /// <summary>The division; <see cref="Piece.After"/> and <see cref="Piece.ReadyAt"/> are not looked at.</summary>
    public static FewestLate Of(IEnumerable<Piece> pieces)
    {
        var byDue = pieces.OrderBy(piece => piece.Due).ToArray();
        var kept = new PriorityQueue<int, long>();
        List<Piece> late = [];
        var now = 0L;

        for (var at = 0; at < byDue.Length; at++)
        {
            kept.Enqueue(at, -byDue[at].Length);
            now += byDue[at].Length;

            if (now > byDue[at].Due)
            {
                var longest = byDue[kept.Dequeue()];
                now -= longest.Length;
                late.Add(longest);
            }
        }

        return new FewestLate(
            [.. kept.UnorderedItems.Select(item => item.Element).Order().Select(at => byDue[at])], late);
    }
}
