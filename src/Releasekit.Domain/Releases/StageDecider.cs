namespace Releasekit.Domain.Releases;

/// <summary>
/// What may happen to a stage:
/// <code>
/// to          from waiting, ready      started     blocked               completed           skipped
/// started     started                  already     unblocked, started *  refused             refused
/// completed   completed                completed   unblocked, completed  already             refused
/// skipped     skipped (reason)         skipped     skipped               refused             already
/// blocked     blocked (reason)         blocked     already               refused             refused
/// ready       refused, already **      refused **  unblocked             reopened (reason)   reopened (reason)
/// </code>
/// * Unblocked alone where the block came upon a started stage, which is started again by that.
/// ** Already, where its last transition was a reopening or the end of a block: that is what was asked for.
/// </summary>
public static class StageDecider
{
    /// <summary>
    /// Records a transition of <paramref name="stage"/>. Asking for the state it already has changes nothing.
    /// Refuses: <c>stage.unknown</c>, <c>release.dropped</c>, <c>occurred.future</c>, <c>occurred.before_planned</c>,
    /// <c>occurred.before_previous</c>, <c>stage.done</c>, <c>stage.waiting</c>, <c>stage.started</c>,
    /// <c>stage.predecessor_open</c>, <c>stage.publication_not_skippable</c>, <c>reason.needed</c>,
    /// <c>note.invalid</c>, <c>url.invalid</c>.
    /// </summary>
    /// <param name="note">The reason, needed for skipping, blocking and
    /// reopening; otherwise an optional remark.</param>
    /// <param name="url">Where the publication can be seen; only with the completion of the publication stage.</param>
    /// <param name="happenedAt">When it happened, UTC; null for now.</param>
    public static Decision<ReleaseEvent> Record(
        Release release, string stage, StageState to, string? note, string? url, Instant? happenedAt, Instant now) =>
        Decide(release, stage, to, note, url, happenedAt, now, isHistory: false);

    /// <summary>
    /// Records what a history tells of a stage. It is no question whether it may be: a stage completed over an open
    /// strict predecessor was completed, out of order. Refuses all else that <see cref="Record"/> does.
    /// </summary>
    internal static Decision<ReleaseEvent> Recount(
        Release release, string stage, StageState to, Instant happenedAt, Instant now) =>
        Decide(release, stage, to, note: null, url: null, happenedAt, now, isHistory: true);

    private static Decision<ReleaseEvent> Decide(
        Release release, string stage, StageState to, string? note, string? url, Instant? happenedAt, Instant now,
        bool isHistory)
    {
        if (release.FindStage(stage) is not { } found)
        {
            return ReleaseRefusals.UnknownStage(release, stage);
        }

        // A transition just told by a clock ahead of ours must not make "now" too early for the next one.
        var at = happenedAt ?? Instant.Max(now, found.Latest?.At ?? now);

        if (TransitionTimes.Check(release, at, now, "/at") is { } untimely)
        {
            return untimely;
        }

        if (IsAlready(release, found, to))
        {
            return [];
        }

        if (release.IsDropped)
        {
            return ReleaseRefusals.Dropped(release);
        }

        var refusal = StageRules.CheckTexts(found, to, note, url)
            ?? StageRules.CheckMove(release, found, to, isHistory)
            ?? TransitionTimes.CheckPrevious(found, at);

        return refusal is not null
            ? refusal
            : Decision.Accept<ReleaseEvent>([.. Moved(release, found, to, note, url, at, now)]);
    }

    /// <summary>
    /// Corrects the time of an earlier transition; the old time stays in the history.
    /// Refuses: <c>transition.unknown</c>, <c>occurred.future</c>, <c>occurred.before_planned</c>,
    /// <c>occurred.out_of_line</c>.
    /// </summary>
    public static Decision<ReleaseEvent> Amend(Release release, long sequence, Instant at, Instant now)
    {
        var stage = release.Stages.FirstOrDefault(s => s.Transitions.Any(t => t.Sequence == sequence));

        if (stage is null)
        {
            return Refusal.NotAcceptable(
                "transition.unknown",
                $"'{release.Title}' has no transition {sequence}; its history lists them with their sequence.");
        }

        if (TransitionTimes.Check(release, at, now, "/at") is { } untimely)
        {
            return untimely;
        }

        var amended = stage.Transitions.First(t => t.Sequence == sequence);

        if (amended.At == at)
        {
            return [];
        }

        return TransitionTimes.CheckNeighbours(stage, sequence, at) is { } outOfLine
            ? outOfLine
            : [new TransitionAmended(sequence, stage.Plan.Key, amended.At, at, now, now)];
    }

    /// <summary>
    /// Ticks or unticks a checklist item, named by its key or its text; a second time changes nothing.
    /// Refuses: <c>stage.unknown</c>, <c>item.unknown</c>, <c>release.dropped</c>.
    /// </summary>
    public static Decision<ReleaseEvent> Tick(Release release, string stage, string item, bool ticked, Instant now)
    {
        if (release.FindStage(stage) is not { } found)
        {
            return ReleaseRefusals.UnknownStage(release, stage);
        }

        if (found.Plan.Checklist.FirstOrDefault(i => i.Key == item || i.Text == item) is not { } known)
        {
            var items = string.Join(", ", found.Plan.Checklist.Select(i => i.Key));
            return Refusal.NotAcceptable(
                "item.unknown",
                $"The checklist of '{stage}' has no item '{item}'; it has {(items.Length == 0 ? "none" : items)}.");
        }

        if (found.Ticked.Contains(known.Key) == ticked)
        {
            return [];
        }

        if (release.IsDropped)
        {
            return ReleaseRefusals.Dropped(release);
        }

        return ticked
            ? [new ChecklistItemTicked(stage, known.Key, now, now)]
            : [new ChecklistItemUnticked(stage, known.Key, now, now)];
    }

    private static bool IsAlready(Release release, Stage stage, StageState to) =>
        release.StateOf(stage) == to
        || (to is StageState.Ready && stage.Latest is { Kind: TransitionKind.Reopened or TransitionKind.Unblocked });

    private static IEnumerable<ReleaseEvent> Moved(
        Release release, Stage stage, StageState to, string? note, string? url, Instant at, Instant now)
    {
        var key = stage.Plan.Key;
        var isStartedByUnblocking = to is StageState.Started && StageRules.WasStartedBeforeBlock(stage);

        if (stage.Mark is StageMark.Blocked && to is StageState.Started or StageState.Completed or StageState.Ready)
        {
            yield return new StageUnblocked(
                key, to is StageState.Ready || isStartedByUnblocking ? note : null, at, now);
        }

        switch (to)
        {
            case StageState.Started when !isStartedByUnblocking:
                yield return new StageStarted(key, note, at, now);
                break;
            case StageState.Completed:
                var outOfOrder = release.OpenBefore(stage).Any();
                yield return new StageCompleted(key, stage.Plan.Publication, outOfOrder, note, url, at, now);
                break;
            case StageState.Skipped:
                yield return new StageSkipped(key, note!, at, now);
                break;
            case StageState.Blocked:
                yield return new StageBlocked(key, note!, at, now);
                break;
            case StageState.Ready when stage.IsDone:
                yield return new StageReopened(key, stage.Plan.Publication, note!, at, now);
                break;
        }
    }
}
