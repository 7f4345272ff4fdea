using System.Text.Json;
using Refit;

namespace Releasekit.Client.Releases;

/// <summary>One thing to publish.</summary>
/// <param name="Slot">Null for an extra, and while dropped.</param>
/// <param name="Stages">In working order.</param>
public sealed record Release(
    Guid Id,
    string Series,
    string Title,
    ReleaseState State,
    string StagePlan,
    int PlanVersion,
    HeldSlot? Slot,
    IReadOnlyList<Stage> Stages,
    Instant PlannedAt,
    Instant? PublishedAt,
    string? Url,
    string? DroppedFor,
    string? ExternalId,
    long Sequence)
{
    /// <summary>The stage of that key.</summary>
    public Stage this[string key] => Stages.Single(stage => stage.Key == key);
}

/// <summary>Where a release stands.</summary>
public enum ReleaseState
{
    /// <summary>Nothing was done yet.</summary>
    Planned,

    /// <summary>Something was.</summary>
    InProgress,

    /// <summary>In the bank.</summary>
    Finished,

    /// <summary>Published; a follow-up is open.</summary>
    Published,

    /// <summary>All done.</summary>
    Closed,

    /// <summary>Will not be published.</summary>
    Dropped,
}

/// <summary>The slot a release holds.</summary>
public sealed record HeldSlot(LocalDate Date, Instant At, Instant PromisedAt, Schedule.SlotState State);

/// <summary>One step of a release.</summary>
/// <param name="StartedAt">Null when not begun, and when nobody said when it was.</param>
public sealed record Stage(
    string Key,
    string Name,
    StageState State,
    bool Publication,
    Instant? DueAt,
    Instant? StartedAt,
    Instant? CompletedAt,
    bool OutOfOrder,
    string? Note,
    Duration? Effort,
    IReadOnlyList<string> After,
    IReadOnlyList<ChecklistItem> Checklist);

/// <summary>Where a stage stands.</summary>
public enum StageState
{
    /// <summary>A predecessor is open.</summary>
    Waiting,

    /// <summary>It can be begun.</summary>
    Ready,

    /// <summary>Begun.</summary>
    Started,

    /// <summary>Held up.</summary>
    Blocked,

    /// <summary>Finished.</summary>
    Completed,

    /// <summary>Left out.</summary>
    Skipped,
}

/// <summary>A small thing to tick.</summary>
public sealed record ChecklistItem(string Item, string Text, bool Ticked);

/// <summary>A release to plan.</summary>
public sealed record PlanRelease(
    string Series, string Title, LocalDate? Slot = null, Instant? PlannedAt = null, string? StagePlan = null,
    string? ExternalId = null);

/// <summary>Why a release is dropped.</summary>
public sealed record DropRelease(string? Reason);

/// <summary>A transition of a stage.</summary>
/// <param name="Note">The reason: needed for skipped, blocked and reopening.</param>
public sealed record Transition(
    string Stage, StageState To, Instant? At = null, string? Note = null, string? Url = null);

/// <summary>A transition of a stage of one of many releases.</summary>
public sealed record ReleaseTransition(
    Guid Release, string Stage, StageState To, Instant? At = null, string? Note = null, string? Url = null);

/// <summary>Transitions to record, all or nothing.</summary>
public sealed record ManyTransitions(IReadOnlyList<ReleaseTransition> Transitions);

/// <summary>The releases that transitions touched.</summary>
public sealed record RecordedTransitions(IReadOnlyList<Release> Releases);

/// <summary>When a transition really happened.</summary>
public sealed record TransitionChange(Instant At);

/// <summary>Whether an item is ticked.</summary>
public sealed record Tick(bool Ticked);

/// <summary>Something that was recorded.</summary>
/// <param name="Event">What happened, e.g. StageCompleted.</param>
/// <param name="Details">What else is known, by kind of event.</param>
public sealed record HistoryEntry(
    long Sequence, string Event, Instant OccurredAt, Instant RecordedAt, Dictionary<string, JsonElement> Details);

/// <summary>Which releases to list; null lets all through.</summary>
public sealed record ReleaseFilter(
    [property: AliasAs("series")] string? Series = null,
    [property: AliasAs("state")] string? State = null,
    [property: AliasAs("stage")] string? Stage = null,
    [property: AliasAs("from")] LocalDate? From = null,
    [property: AliasAs("to")] LocalDate? To = null,
    [property: AliasAs("q")] string? Text = null);
