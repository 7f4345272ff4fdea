using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Schedule;

/// <summary>Judges a single slot that a release holds, where nothing but that release can decide it.</summary>
public static class HeldSlot
{
    /// <summary>
    /// What has become of it; null when later slots have to be looked at to tell overdue from missed
    /// (<see cref="SeriesJudgement"/> does).
    /// </summary>
    public static SlotStatus? StatusOf(Slot slot, Instant? publishedAt, Duration tolerance, Instant at)
    {
        var onTimeUntil = slot.PromisedAt + tolerance;

        return publishedAt switch
        {
            _ when slot.Excuse is not null => SlotStatus.Excused,
            _ when slot.PromisedAt > at => SlotStatus.Held,
            { } published when published <= at => published <= onTimeUntil ? SlotStatus.Met : SlotStatus.Late,
            _ when at <= onTimeUntil => SlotStatus.Pending,
            _ when at > slot.PromisedAt + slot.LateWindow => SlotStatus.Missed,
            _ => null,
        };
    }
}
