namespace Releasekit.Domain.Releases;

/// <summary>A stage of one release: what was planned and what was done.</summary>
/// <param name="Transitions">In the order they were recorded; empty while nothing was done.</param>
/// <param name="Ticked">Keys of the ticked checklist items, in the order of ticking.</param>
public sealed record Stage(
    PlannedStage Plan, IReadOnlyList<StageTransition> Transitions, IReadOnlyList<string> Ticked)
{
    /// <summary>What the last transition left, whatever other stages do.</summary>
    internal StageMark Mark => MarkAfter(Transitions.Count);

    /// <summary>Whether nothing is left to do: completed or skipped.</summary>
    public bool IsDone => Mark is StageMark.Completed or StageMark.Skipped;

    /// <summary>
    /// When the work in progress, or the work that was completed, began; null when unknown or not begun.
    /// </summary>
    public Instant? StartedAt => SinceReopened(TransitionKind.Started)?.At;

    /// <summary>When it was completed, UTC; null while it is not.</summary>
    public Instant? CompletedAt => Mark is StageMark.Completed ? SinceReopened(TransitionKind.Completed)?.At : null;

    /// <summary>The transition that brought the present mark; null while nothing was done.</summary>
    public StageTransition? Latest => Transitions.Count == 0 ? null : Transitions[^1];

    private StageMark MarkAfter(int count) => count == 0 ? StageMark.None : Transitions[count - 1].Kind switch
    {
        TransitionKind.Started => StageMark.Started,
        TransitionKind.Completed => StageMark.Completed,
        TransitionKind.Skipped => StageMark.Skipped,
        TransitionKind.Blocked => StageMark.Blocked,
        TransitionKind.Reopened => StageMark.None,
        _ => MarkBeforeBlock(count - 1),
    };

    private StageMark MarkBeforeBlock(int unblocked)
    {
        var block = unblocked - 1;

        while (block >= 0 && Transitions[block].Kind is not TransitionKind.Blocked)
        {
            block--;
        }

        return MarkAfter(Math.Max(block, 0));
    }

    private StageTransition? SinceReopened(TransitionKind kind) => Transitions
        .Reverse()
        .TakeWhile(transition => transition.Kind is not TransitionKind.Reopened)
        .FirstOrDefault(transition => transition.Kind == kind);
}

/// <summary>A recorded change of a stage.</summary>
/// <param name="Sequence">The number of its event in the release, counting from 1.</param>
/// <param name="At">When it happened, as known now (amendments included), UTC.</param>
/// <param name="Note">The reason or remark; null when none was given.</param>
public sealed record StageTransition(
    long Sequence, TransitionKind Kind, Instant At, Instant RecordedAt, string? Note = null, bool OutOfOrder = false);

/// <summary>The six ways a stage changes.</summary>
public enum TransitionKind
{
    /// <summary>Work began.</summary>
    Started,

    /// <summary>Work was finished.</summary>
    Completed,

    /// <summary>Left out.</summary>
    Skipped,

    /// <summary>Open again after it was completed or skipped.</summary>
    Reopened,

    /// <summary>Cannot go on.</summary>
    Blocked,

    /// <summary>Can go on.</summary>
    Unblocked,
}

/// <summary>What a stage's own history says, before its predecessors are looked at.</summary>
internal enum StageMark
{
    None,
    Started,
    Blocked,
    Completed,
    Skipped,
}

/// <summary>Where a stage stands.</summary>
public enum StageState
{
    /// <summary>A predecessor is open.</summary>
    Waiting,

    /// <summary>It can be begun.</summary>
    Ready,

    /// <summary>Begun.</summary>
    Started,

    /// <summary>Something holds it up.</summary>
    Blocked,

    /// <summary>Finished.</summary>
    Completed,

    /// <summary>Left out.</summary>
    Skipped,
}
