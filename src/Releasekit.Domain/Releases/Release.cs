using System.Diagnostics;

namespace Releasekit.Domain.Releases;

/// <summary>One thing to publish, as its events leave it.</summary>
public sealed record Release
{
    /// <summary>Unique among all releases.</summary>
    public required Guid Id { get; init; }

    /// <summary>The slug of its series.</summary>
    public required string Series { get; init; }

    /// <summary>One line.</summary>
    public required string Title { get; init; }

    /// <summary>The stage plan it follows, and which version of it.</summary>
    public required string StagePlan { get; init; }

    /// <summary>Counts from 1.</summary>
    public required int PlanVersion { get; init; }

    /// <summary>In working order.</summary>
    public required IReadOnlyList<Stage> Stages { get; init; }

    /// <summary>When it began to exist, UTC.</summary>
    public required Instant PlannedAt { get; init; }

    /// <summary>
    /// The slot it was given, by its original local date; null for an extra. Remembered while dropped.
    /// </summary>
    public LocalDate? Slot { get; init; }

    /// <summary>
    /// When it was told which slot it is for, or that it is for none, UTC: nobody could know before when its stages are
    /// due.
    /// </summary>
    public Instant SlotKnownAt { get; init; }

    /// <summary>When it was published, UTC; null while it is not.</summary>
    public Instant? PublishedAt { get; init; }

    /// <summary>Where the publication can be seen; null when nobody said.</summary>
    public string? Url { get; init; }

    /// <summary>Why it was dropped; null while it is not.</summary>
    public string? DroppedFor { get; init; }

    /// <summary>When it was dropped, UTC; null while it is not.</summary>
    public Instant? DroppedAt { get; init; }

    /// <summary>What a file or another tool calls it; null when nobody does.</summary>
    public string? ExternalId { get; init; }

    /// <summary>Kept beside the events that decide it, so that lists can be filtered by it.</summary>
    public ReleaseState State { get; init; }

    /// <summary>Keys of the stages that are ready, started or blocked; empty when nothing is to be done.</summary>
    public IReadOnlyList<string> OpenStages { get; init; } = [];

    /// <summary>The number of its latest event, counting from 1.</summary>
    public long Sequence { get; init; }

    /// <summary>When the latest event was recorded, UTC.</summary>
    public Instant ChangedAt { get; init; }

    /// <summary>Whether it will not be published.</summary>
    internal bool IsDropped => DroppedFor is not null;

    /// <summary>The slot nobody else can have because of it: none while dropped.</summary>
    public LocalDate? HeldSlot => IsDropped ? null : Slot;

    /// <summary>The stage that is the publication.</summary>
    public Stage Publication => Stages.Single(stage => stage.Plan.Publication);

    /// <summary>The stage of that key; null when the release has none.</summary>
    public Stage? FindStage(string key) => Stages.FirstOrDefault(stage => stage.Plan.Key == key);

    /// <summary>Where <paramref name="stage"/> stands, its predecessors looked at.</summary>
    public StageState StateOf(Stage stage) => stage.Mark switch
    {
        StageMark.Started => StageState.Started,
        StageMark.Blocked => StageState.Blocked,
        StageMark.Completed => StageState.Completed,
        StageMark.Skipped => StageState.Skipped,
        _ => OpenBefore(stage).Any() ? StageState.Waiting : StageState.Ready,
    };

    /// <summary>
    /// The predecessors of <paramref name="stage"/> that are neither completed nor skipped, in working order.
    /// </summary>
    public IEnumerable<Stage> OpenBefore(Stage stage) =>
        Stages.Where(other => !other.IsDone && stage.Plan.After.Contains(other.Plan.Key));

    /// <summary>The release after one more event. Every event has exactly one line here.</summary>
    /// <param name="sequence">The number of the event in this release, counting from 1.</param>
    public static Release Evolve(Release? before, long sequence, ReleaseEvent happened)
    {
        var after = (before, happened) switch
        {
            (null, ReleasePlanned e) => Planned(e),
            ({ } r, ReleaseRetitled e) => r with { Title = e.Title },
            ({ } r, SlotAssigned e) => r with { Slot = e.Slot, SlotKnownAt = e.RecordedAt },
            ({ } r, SlotUnassigned) => r with { Slot = null },
            ({ } r, StageStarted e) => r.Move(e.Stage, sequence, TransitionKind.Started, e, e.Note),
            ({ } r, StageCompleted e) => (e.Publication ? r with { Url = e.Url ?? r.Url } : r)
                .Move(e.Stage, sequence, TransitionKind.Completed, e, e.Note, e.OutOfOrder),
            ({ } r, StageSkipped e) => r.Move(e.Stage, sequence, TransitionKind.Skipped, e, e.Reason),
            ({ } r, StageReopened e) => (e.Publication ? r with { Url = null } : r)
                .Move(e.Stage, sequence, TransitionKind.Reopened, e, e.Reason),
            ({ } r, StageBlocked e) => r.Move(e.Stage, sequence, TransitionKind.Blocked, e, e.Reason),
            ({ } r, StageUnblocked e) => r.Move(e.Stage, sequence, TransitionKind.Unblocked, e, e.Note),
            ({ } r, ChecklistItemTicked e) => r.With(e.Stage, s => s with { Ticked = [.. s.Ticked, e.Item] }),
            ({ } r, ChecklistItemUnticked e) => r.With(
                e.Stage, s => s with { Ticked = [.. s.Ticked.Where(item => item != e.Item)] }),
            ({ } r, TransitionAmended e) => r.With(e.Stage, s => s with { Transitions = Amended(s, e) }),
            ({ } r, StagePlanAdopted e) => r with
            {
                StagePlan = e.StagePlan,
                PlanVersion = e.PlanVersion,
                Stages = [.. e.Stages.Select(plan => Adopted(plan, r.FindStage(plan.Key)))],
            },
            ({ } r, ReleaseDropped e) => r with { DroppedFor = e.Reason, DroppedAt = e.OccurredAt },
            ({ } r, ReleaseRestored) => r with { DroppedFor = null, DroppedAt = null },
            _ => throw new UnreachableException($"{happened.GetType().Name} cannot follow {before?.State}."),
        };

        return after.Settle() with { Sequence = sequence, ChangedAt = happened.RecordedAt };
    }

    private static Release Planned(ReleasePlanned e) => new()
    {
        Id = e.Release,
        Series = e.Series,
        Title = e.Title,
        StagePlan = e.StagePlan,
        PlanVersion = e.PlanVersion,
        Stages = [.. e.Stages.Select(plan => new Stage(plan, [], []))],
        PlannedAt = e.OccurredAt,
        SlotKnownAt = e.RecordedAt,
        ExternalId = e.ExternalId,
    };

    private static Stage Adopted(PlannedStage plan, Stage? before) => before is null
        ? new(plan, [], [])
        : before with { Plan = plan, Ticked = [.. before.Ticked.Intersect(plan.Checklist.Select(item => item.Key))] };

    private static StageTransition[] Amended(Stage stage, TransitionAmended e) =>
        [.. stage.Transitions.Select(t => t.Sequence == e.Transition ? t with { At = e.Becomes } : t)];

    private Release Move(
        string stage, long sequence, TransitionKind kind, ReleaseEvent e, string? note, bool outOfOrder = false)
    {
        var transition = new StageTransition(sequence, kind, e.OccurredAt, e.RecordedAt, note, outOfOrder);
        return With(stage, s => s with { Transitions = [.. s.Transitions, transition] });
    }

    /// <summary>
    /// A stage that a later plan no longer has is left alone: what was done to it stays in the history.
    /// </summary>
    private Release With(string stage, Func<Stage, Stage> change) =>
        this with { Stages = [.. Stages.Select(s => s.Plan.Key == stage ? change(s) : s)] };

    /// <summary>What was done to it, in one line; kept beside the document.</summary>
    public string Trace => ReleaseTrace.Of(this);

    internal Release Settle() => this with
    {
        PublishedAt = Publication.CompletedAt,
        State = ReleaseStates.Of(this),
        OpenStages = [.. Stages.Where(IsOpen).Select(stage => stage.Plan.Key)],
    };

    private bool IsOpen(Stage stage) =>
        !IsDropped && StateOf(stage) is StageState.Ready or StageState.Started or StageState.Blocked;
}
