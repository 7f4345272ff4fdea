namespace Releasekit.Domain.Releases;

/// <summary>What can happen to a release. Kept for good: a field may be added with a default, never renamed.</summary>
public abstract record ReleaseEvent
{
    private protected ReleaseEvent(Instant occurredAt, Instant recordedAt) =>
        (OccurredAt, RecordedAt) = (occurredAt, recordedAt);

    /// <summary>When it happened, UTC; may be back-dated.</summary>
    public Instant OccurredAt { get; init; }

    /// <summary>When we were told, UTC.</summary>
    public Instant RecordedAt { get; init; }
}

/// <summary>
/// A release was planned for a series, with the stages of one version of a plan. It occurs at its "planned at".
/// </summary>
/// <param name="Series">The slug of the series.</param>
/// <param name="ExternalId">What a file or another tool calls it; null when nobody does.</param>
public sealed record ReleasePlanned(
    Guid Release, string Series, string Title, string StagePlan, int PlanVersion, IReadOnlyList<PlannedStage> Stages,
    string? ExternalId, Instant OccurredAt, Instant RecordedAt) : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>The release got another title.</summary>
public sealed record ReleaseRetitled(string Title, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>
/// The release was given a slot, named by its original local date; a slot it held before is free again.
/// </summary>
public sealed record SlotAssigned(LocalDate Slot, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>The release no longer holds its slot.</summary>
/// <param name="Why">Why, in a few words: taken off, slot gone with the old cadence, slot taken meanwhile.</param>
public sealed record SlotUnassigned(LocalDate Slot, string Why, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>Work on a stage began.</summary>
public sealed record StageStarted(string Stage, string? Note, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>Work on a stage was finished; of the publication stage: the release was published.</summary>
/// <param name="OutOfOrder">Whether a stage it follows was still open.</param>
/// <param name="Url">Where the publication can be seen; only of the publication stage, and optional there.</param>
public sealed record StageCompleted(
    string Stage, bool Publication, bool OutOfOrder, string? Note, string? Url, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>A stage was left out for this release.</summary>
public sealed record StageSkipped(string Stage, string Reason, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>
/// A completed or skipped stage is open again; of the publication stage: the publication is withdrawn.
/// </summary>
public sealed record StageReopened(
    string Stage, bool Publication, string Reason, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>Work on a stage cannot go on.</summary>
public sealed record StageBlocked(string Stage, string Reason, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>Work on a stage can go on: it is as it was before the block.</summary>
public sealed record StageUnblocked(string Stage, string? Note, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>An item of a stage's checklist was ticked.</summary>
public sealed record ChecklistItemTicked(string Stage, string Item, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>The tick of an item was taken back.</summary>
public sealed record ChecklistItemUnticked(string Stage, string Item, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>The time of an earlier transition was corrected.</summary>
/// <param name="Transition">The sequence number of the transition's event in this release.</param>
/// <param name="Was">When it was thought to have happened until now.</param>
/// <param name="Becomes">When it really happened.</param>
public sealed record TransitionAmended(
    long Transition, string Stage, Instant Was, Instant Becomes, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>The release follows another version of its stage plan; stages of the same key keep what was done.</summary>
public sealed record StagePlanAdopted(
    string StagePlan, int PlanVersion, IReadOnlyList<PlannedStage> Stages, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>The release will not be published.</summary>
public sealed record ReleaseDropped(string Reason, Instant OccurredAt, Instant RecordedAt)
    : ReleaseEvent(OccurredAt, RecordedAt);

/// <summary>A dropped release is worked on again.</summary>
public sealed record ReleaseRestored(Instant OccurredAt, Instant RecordedAt) : ReleaseEvent(OccurredAt, RecordedAt);
