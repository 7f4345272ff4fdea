using System.ComponentModel;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Server.Http;

namespace Releasekit.Server.Releases;

/// <param name="Id">The id that the service gave out.</param>
/// <param name="Series">The id of its series.</param>
/// <param name="Title">What it is called.</param>
/// <param name="State">Where it stands, read off its stages.</param>
/// <param name="StagePlan">The id of the stage plan it follows.</param>
/// <param name="PlanVersion">The version of the stage plan it follows.</param>
/// <param name="Slot">The slot it holds; null for an extra, and while dropped.</param>
/// <param name="Stages">In working order.</param>
/// <param name="PlannedAt">When it began to exist, UTC.</param>
/// <param name="PublishedAt">When its publication was completed, UTC; null while it is not published.</param>
/// <param name="Url">Where the publication can be seen; null when nobody said.</param>
/// <param name="DroppedFor">Why it was dropped; null while it is not.</param>
/// <param name="ExternalId">What a file or another tool calls it; null when it has no such name.</param>
/// <param name="Sequence">The number of its latest event.</param>
internal sealed record ReleaseBody(
    Guid Id,
    string Series,
    string Title,
    ReleaseState State,
    string StagePlan,
    int PlanVersion,
    HeldSlotBody? Slot,
    IReadOnlyList<StageBody> Stages,
    Instant PlannedAt,
    Instant? PublishedAt,
    string? Url,
    string? DroppedFor,
    string? ExternalId,
    long Sequence) : ITagged
{
    /// <param name="slot">The slot it holds and what became of it; null without one.</param>
    public static ReleaseBody Of(Release release, (Slot Slot, SlotStatus Status)? slot)
    {
        var due = DueDates.Of(release, slot?.Slot.At);

        return new(
            release.Id,
            release.Series,
            release.Title,
            release.State,
            release.StagePlan,
            release.PlanVersion,
            slot is { } held ? new(held.Slot.Date, held.Slot.At, held.Slot.PromisedAt, held.Status) : null,
            [.. release.Stages.Select(stage => StageBody.Of(release, stage, due[stage.Plan.Key]))],
            release.PlannedAt,
            release.PublishedAt,
            release.Url,
            release.DroppedFor,
            release.ExternalId,
            release.Sequence);
    }
}

/// <param name="Date">The slot's original local date, which names it.</param>
/// <param name="At">Where it stands in the calendar, UTC.</param>
/// <param name="PromisedAt">What was promised, UTC.</param>
/// <param name="State">What became of the slot.</param>
internal sealed record HeldSlotBody(LocalDate Date, Instant At, Instant PromisedAt, SlotStatus State);

/// <param name="Key">Names the stage in its plan.</param>
/// <param name="Name">What people call it.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Publication">Whether completing it publishes the release.</param>
/// <param name="DueAt">When it is due, UTC; null without a slot to count from.</param>
/// <param name="StartedAt">When it was started, UTC; null when not begun, and when nobody said when it was.</param>
/// <param name="CompletedAt">When it was completed, UTC; null while it is not.</param>
/// <param name="OutOfOrder">Whether it was completed while a stage it follows was open.</param>
/// <param name="Note">What was said with its latest transition; null when nothing was.</param>
/// <param name="Effort">Working time it is expected to take, ISO 8601; null when nobody guessed.</param>
/// <param name="After">Keys of the stages it follows; empty when it can begin at once.</param>
/// <param name="Checklist">Small things to tick, in order; may be empty.</param>
internal sealed record StageBody(
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
    IReadOnlyList<ChecklistItemBody> Checklist)
{
    public static StageBody Of(Release release, Stage stage, Instant? dueAt) => new(
        stage.Plan.Key,
        stage.Plan.Name,
        release.StateOf(stage),
        stage.Plan.Publication,
        dueAt,
        stage.StartedAt,
        stage.CompletedAt,
        stage.Latest is { OutOfOrder: true },
        stage.Latest?.Note,
        stage.Plan.Effort,
        stage.Plan.After,
        [.. stage.Plan.Checklist.Select(
            item => new ChecklistItemBody(item.Key, item.Text, stage.Ticked.Contains(item.Key)))]);
}

/// <param name="Text">As it stands in the stage plan.</param>
/// <param name="Ticked">Whether it is done.</param>
internal sealed record ChecklistItemBody(
    // The contract's reader of comments takes a property called Item for an indexer, and passes it over.
    [property: Description("Names it in addresses; made from the text.")] string Item,
    string Text,
    bool Ticked);
