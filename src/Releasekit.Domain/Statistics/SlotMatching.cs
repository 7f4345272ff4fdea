namespace Releasekit.Domain.Statistics;

/// <summary>A slot that may be matched to a publication p when -early ≤ p - s ≤ late, both ends included.</summary>
/// <param name="PromisedAt">s, the slot's time.</param>
/// <param name="Early">How long before its time a publication may still be meant for this slot; not negative.</param>
/// <param name="Late">How long after; not negative.</param>
public readonly record struct MatchableSlot(Instant PromisedAt, Duration Early, Duration Late);

/// <summary>A slot and the publication it got, as indices from 0 into the lists that were matched.</summary>
public readonly record struct SlotPairing(int Slot, int Publication);

/// <summary>
/// Which publication was meant for which slot, where nobody said so. Of all one-to-one matchings that keep both in
/// order, the one with (1) the most pairs, (2) the least sum of |p - s|, (3) the earliest slots: the least sum of their
/// indices, then the earlier publication. Exact: durations are added as whole ticks of 100 ns.
/// </summary>
/// <remarks>
/// Keeping the order loses nothing while windows do not overtake each other, as |p - s| is convex. It is an alignment
/// of two sequences, from the end to the front; as a slot can only take the few publications in its windows, each row
/// of the table is filled there alone: time and room are the number of eligible pairs, not slots times publications.
/// </remarks>
public static class SlotMatching
{
    /// <summary>The pairs, ascending in both indices; empty when nothing is eligible.</summary>
    /// <param name="slots">Ascending by their time.</param>
    /// <param name="publications">Ascending.</param>
    /// <exception cref="ArgumentException">One of the lists is out of order.</exception>
    public static IReadOnlyList<SlotPairing> Match(
        IReadOnlyList<MatchableSlot> slots, IReadOnlyList<Instant> publications)
    {
        Instant[] published = [.. publications];
        RequireOrder([.. slots.Select(slot => slot.PromisedAt)], nameof(slots));
        RequireOrder(published, nameof(publications));

        var rows = new MatchingRow[slots.Count];
        var table = new MatchingTable(published.Length);
        for (var slot = slots.Count - 1; slot >= 0; slot--)
        {
            rows[slot] = table.Prepend(slot, slots[slot], published);
        }

        return Walk(rows, published.Length);
    }

    private static List<SlotPairing> Walk(MatchingRow[] rows, int publications)
    {
        var pairs = new List<SlotPairing>();
        var next = 0;
        for (var slot = 0; slot < rows.Length && next < publications; slot++)
        {
            var row = rows[slot];
            if (next >= row.PassFrom)
            {
                next = Math.Max(next, row.First);
            }

            while (row.StepAt(next) == MatchingStep.PassPublication)
            {
                next++;
            }

            if (row.StepAt(next) == MatchingStep.Pair)
            {
                pairs.Add(new SlotPairing(slot, next++));
            }
        }

        return pairs;
    }

    private static void RequireOrder(Instant[] instants, string name)
    {
        for (var i = 1; i < instants.Length; i++)
        {
            if (instants[i] < instants[i - 1])
            {
                throw new ArgumentException("Must be ascending in time.", name);
            }
        }
    }
}
