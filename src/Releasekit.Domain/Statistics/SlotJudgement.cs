namespace Releasekit.Domain.Statistics;

/// <summary>
/// What has become of each slot at an instant <c>at</c>; s is the slot's time, p the publication it got:
/// <list type="table">
/// <item><term>excused</term><description>Excused, whatever else.</description></item>
/// <item><term>held, open</term><description>s &gt; at, with or without a release assigned.</description></item>
/// <item><term>met</term><description>p ≤ s + tolerance.</description></item>
/// <item><term>late</term><description>p &gt; s + tolerance, for a held slot however late.</description></item>
/// <item><term>pending</term><description>No p, and s ≤ at ≤ s + tolerance.</description></item>
/// <item><term>overdue</term><description>No p, s + tolerance &lt; at ≤ s + late window, and no later slot
/// published.</description></item>
/// <item><term>missed</term><description>No p, else.</description></item>
/// </list>
/// A held slot takes its own release and no other. Publications nobody assigned are matched to the slots nobody holds
/// (<see cref="SlotMatching"/>), and what finds no slot is an extra. Publications after <c>at</c> do not count.
/// </summary>
public static class SlotJudgement
{
    /// <summary>Judges a whole history; cut it to a window afterwards, never before.</summary>
    /// <param name="slots">All slots, in any order; future ones too, as a publication may be early for one.</param>
    /// <param name="publications">All publications, in any order.</param>
    /// <param name="tolerance">How late still counts as on time, included.</param>
    /// <param name="at">The instant as of which is judged.</param>
    public static JudgedHistory Judge(
        IReadOnlyList<PromisedSlot> slots, IReadOnlyList<Publication> publications, Duration tolerance, Instant at)
    {
        PromisedSlot[] promised = [.. slots.OrderBy(slot => slot.PromisedAt).ThenBy(slot => slot.Date)];
        Publication[] published =
        [
            .. publications.Where(publication => publication.At <= at)
                .OrderBy(publication => publication.At)
                .DistinctBy(publication => publication.Release),
        ];
        var taken = Take(promised, published, out var extras);
        var lastTaken = LastCounting(promised, taken);
        var outcomes = promised.Select((slot, index) => new SlotOutcome(
            slot.Date,
            slot.PromisedAt,
            StatusOf(slot, taken[index]?.At, isOvertaken: index < lastTaken, tolerance, at),
            taken[index]?.At,
            taken[index]?.Release ?? slot.HeldBy));
        return new JudgedHistory([.. outcomes], published, extras);
    }

    private static Publication?[] Take(PromisedSlot[] slots, Publication[] published, out List<Publication> extras)
    {
        var byRelease = published.ToDictionary(publication => publication.Release);
        var holders = slots.Select(slot => slot.HeldBy).OfType<Guid>().ToHashSet();
        Publication?[] taken =
            [.. slots.Select(slot => slot.HeldBy is { } holder ? byRelease.GetValueOrDefault(holder) : null)];

        Publication[] free =
            [.. published.Where(publication => publication.SlotDate is null && !holders.Contains(publication.Release))];
        int[] open = [.. Enumerable.Range(0, slots.Length).Where(i => slots[i] is { HeldBy: null, IsExcused: false })];
        var pairs = SlotMatching.Match(
            [.. open.Select(i => new MatchableSlot(slots[i].PromisedAt, slots[i].EarlyWindow, slots[i].LateWindow))],
            [.. free.Select(publication => publication.At)]);
        foreach (var (slot, publication) in pairs)
        {
            taken[open[slot]] = free[publication];
        }

        var matched = pairs.Select(pair => pair.Publication).ToHashSet();
        extras = [.. free.Where((_, index) => !matched.Contains(index))];
        return taken;
    }

    // A later slot that was published early overtakes too: the publisher has moved on.
    private static int LastCounting(PromisedSlot[] slots, Publication?[] taken)
    {
        var last = slots.Length - 1;
        while (last >= 0 && (taken[last] is null || slots[last].IsExcused))
        {
            last--;
        }

        return last;
    }

    private static SlotStatus StatusOf(
        PromisedSlot slot, Instant? publishedAt, bool isOvertaken, Duration tolerance, Instant at)
    {
        var onTimeUntil = slot.PromisedAt + tolerance;
        return publishedAt switch
        {
            _ when slot.IsExcused => SlotStatus.Excused,
            _ when slot.PromisedAt > at => slot.HeldBy is null ? SlotStatus.Open : SlotStatus.Held,
            { } published => published <= onTimeUntil ? SlotStatus.Met : SlotStatus.Late,
            null when at <= onTimeUntil => SlotStatus.Pending,
            null when at <= slot.PromisedAt + slot.LateWindow && !isOvertaken => SlotStatus.Overdue,
            null => SlotStatus.Missed,
        };
    }
}
