namespace Releasekit.Domain.Statistics;

/// <summary>What became of a slot: open or held before its time, excused at any time, the rest after it.</summary>
public enum SlotStatus
{
    /// <summary>Its time is to come, and nobody holds it.</summary>
    Open,

    /// <summary>Its time is to come, and a release is assigned to it.</summary>
    Held,

    /// <summary>In a break, or given up in time.</summary>
    Excused,

    /// <summary>Within the tolerance, nothing published yet.</summary>
    Pending,

    /// <summary>Published early, or late by no more than the tolerance.</summary>
    Met,

    /// <summary>Published after the tolerance.</summary>
    Late,

    /// <summary>Past the tolerance, nothing published, and it may still come.</summary>
    Overdue,

    /// <summary>Nothing published, and past the late window or overtaken by a later slot.</summary>
    Missed,
}

/// <summary>A slot as judged at an instant.</summary>
/// <param name="Date">The slot's original local date.</param>
/// <param name="PromisedAt">When it was promised to be public.</param>
/// <param name="Status">What has become of it.</param>
/// <param name="PublishedAt">When its release was published, also before the slot's time; null when it was not.</param>
/// <param name="Release">The release matched to it, or else holding it; null when there is none.</param>
public sealed record SlotOutcome(
    LocalDate Date, Instant PromisedAt, SlotStatus Status, Instant? PublishedAt, Guid? Release)
{
    /// <summary>How long after its time it was published; negative when early, null when not published.</summary>
    public Duration? Lateness => PublishedAt - PromisedAt;

    /// <summary>Whether it counts in rates and streaks: met, late, overdue or missed.</summary>
    public bool IsDue => Status is SlotStatus.Met or SlotStatus.Late or SlotStatus.Overdue or SlotStatus.Missed;

    /// <summary>Whether its time is to come and it is not excused.</summary>
    public bool IsFuture => Status is SlotStatus.Open or SlotStatus.Held;
}

/// <summary>The whole history of a series, judged at an instant.</summary>
/// <param name="Slots">Every slot, ascending by its time.</param>
/// <param name="Publications">Those up to the instant, one for each release, ascending.</param>
/// <param name="Extras">The publications that found no slot, ascending.</param>
public sealed record JudgedHistory(
    IReadOnlyList<SlotOutcome> Slots, IReadOnlyList<Publication> Publications, IReadOnlyList<Publication> Extras);
