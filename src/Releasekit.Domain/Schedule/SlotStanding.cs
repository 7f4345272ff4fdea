namespace Releasekit.Domain.Schedule;

/// <summary>What single decisions made of a slot.</summary>
/// <param name="GivenUp">Set when it was given up before its time and not taken up again before it.</param>
/// <param name="WasGivenUp">Whether it was given up last, in time or not.</param>
/// <param name="Count">How many decisions there were.</param>
internal sealed record SlotStanding(
    Instant At, Instant PromisedAt, SlotExcuse? GivenUp, bool WasGivenUp, int Count, Instant ChangedAt)
{
    /// <summary>Applies <paramref name="changes"/> of one slot, in the order they were recorded.</summary>
    public static SlotStanding After(IEnumerable<SlotChange> changes, Instant original, DateTimeZone zone) =>
        changes.Aggregate(
            new SlotStanding(original, original, null, WasGivenUp: false, 0, Instant.MinValue),
            (standing, change) => standing.Changed(change, zone));

    private SlotStanding Changed(SlotChange change, DateTimeZone zone)
    {
        var isInTime = change.RecordedAt < PromisedAt;
        var counted = this with
        {
            Count = Count + 1,
            ChangedAt = change.RecordedAt,
            WasGivenUp = change.Kind is SlotChangeKind.Moved ? WasGivenUp : change.Kind is SlotChangeKind.GivenUp,
        };

        return change.Kind switch
        {
            SlotChangeKind.Moved => counted.Moved(LocalTimes.ToInstant(change.To!.Value, zone), isInTime),
            SlotChangeKind.GivenUp when isInTime => counted with { GivenUp = new(GivenUp: true, change.Reason) },
            SlotChangeKind.TakenUp when isInTime => counted with { GivenUp = null },
            _ => counted,
        };
    }

    private SlotStanding Moved(Instant to, bool isInTime) =>
        this with { At = to, PromisedAt = isInTime ? to : PromisedAt };
}
