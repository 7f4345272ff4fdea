using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Planning;

/// <summary>Something still to do: a stage of a release, or a task.</summary>
/// <param name="Owner">The id of the release or task.</param>
/// <param name="Key">The key of the stage, unique within the owner; for a task whatever names it.</param>
/// <param name="Effort">Working time; null when nobody guessed, and then it counts zero.</param>
/// <param name="DueAt">
/// When it should be finished, UTC, included; null when nothing was promised: it comes last.
/// </param>
/// <param name="After">Keys of the same owner that come first; those that are not open count as done.</param>
public sealed record OpenWork(
    WorkKind Kind, string Owner, string Key, Duration? Effort, Instant? DueAt, IReadOnlyList<string> After)
{
    /// <summary>When it can begin at the earliest, UTC; null: at once.</summary>
    public Instant? NotBefore { get; init; }

    /// <summary>A task to be finished by <paramref name="dueAt"/>.</summary>
    public static OpenWork Task(string id, Duration? effort, Instant? dueAt) =>
        new(WorkKind.Task, id, id, effort, dueAt, []);

    /// <summary>
    /// The open stages of a release, in working order. What makes it and the publication are due at the slot;
    /// follow-ups begin at publication (at the slot, while it has not happened) and are due "within" after it,
    /// without that never. Empty for a dropped release; once published only follow-ups are left.
    /// </summary>
    /// <param name="slotAt">Where its slot stands, UTC; null without one.</param>
    public static IReadOnlyList<OpenWork> Of(Release release, Instant? slotAt)
    {
        if (release.State is ReleaseState.Dropped)
        {
            return [];
        }

        var owner = release.Id.ToString();
        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);
        var publication = release.PublishedAt ?? slotAt;

        return
        [
            .. release.Stages
                .Where(stage => !stage.IsDone)
                .Where(stage => followUps.Contains(stage.Plan.Key) || !release.Publication.IsDone)
                .Select(stage => stage.Plan)
                .Select(plan => followUps.Contains(plan.Key)
                    ? new OpenWork(
                        WorkKind.FollowUp, owner, plan.Key, plan.Effort, publication + plan.Within, plan.After)
                    {
                        NotBefore = publication,
                    }
                    : new OpenWork(WorkKind.Making, owner, plan.Key, plan.Effort, slotAt, plan.After)),
        ];
    }
}

/// <summary>What open work is for.</summary>
public enum WorkKind
{
    /// <summary>A stage up to and with the publication: the slot hangs on it.</summary>
    Making,

    /// <summary>A stage after the publication.</summary>
    FollowUp,

    /// <summary>A task beside the releases.</summary>
    Task,
}
