using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Work;

/// <summary>
/// What may happen to a project as a whole. Its start is <see cref="ProjectStart"/>'s, its steps are
/// <see cref="StepDecider"/>'s.
/// </summary>
public static class ProjectDecider
{
    /// <summary>The rank of a project that nobody ranked.</summary>
    public const int UsualRank = 2;

    private const int LowestRank = 1;
    private const int HighestRank = 3;

    /// <summary>
    /// Proposes a project as a candidate. Refuses: <c>title.invalid</c>, <c>project.rank_invalid</c>,
    /// <c>note.invalid</c>.
    /// </summary>
    public static Decision<ProjectEvent> Propose(Guid id, string title, int rank, string? note, Instant now) =>
        (FaultOfTitle(title) ?? FaultOfRank(rank) ?? FaultOfNote(note)) is { } refusal
            ? refusal
            : [new ProjectProposed(id, title, rank, note, now, now)];

    /// <summary>Gives it another title, whatever its state. Refuses: <c>title.invalid</c>.</summary>
    public static Decision<ProjectEvent> Retitle(Project project, string title, Instant now)
    {
        if (FaultOfTitle(title) is { } refusal)
        {
            return refusal;
        }

        return title == project.Title ? [] : [new ProjectRetitled(title, now, now)];
    }

    /// <summary>Ranks it anew, whatever its state. Refuses: <c>project.rank_invalid</c>.</summary>
    public static Decision<ProjectEvent> Rank(Project project, int rank, Instant now)
    {
        if (FaultOfRank(rank) is { } refusal)
        {
            return refusal;
        }

        return rank == project.Rank ? [] : [new ProjectRanked(rank, now, now)];
    }

    /// <summary>Notes something else with it, or nothing, whatever its state. Refuses: <c>note.invalid</c>.</summary>
    public static Decision<ProjectEvent> ChangeNote(Project project, string? note, Instant now)
    {
        if (FaultOfNote(note) is { } refusal)
        {
            return refusal;
        }

        return note == project.Note ? [] : [new ProjectNoteChanged(note, now, now)];
    }

    /// <summary>
    /// Words the goal of a started project anew. Refuses: <c>project.not_started</c>, <c>project.finished</c>,
    /// <c>project.dropped</c>, <c>project.goal_invalid</c>.
    /// </summary>
    public static Decision<ProjectEvent> ChangeGoal(Project project, string? goal, Instant now)
    {
        if (goal == project.Goal)
        {
            return [];
        }

        return (ProjectRefusals.UnlessStarted(project) ?? ProjectRefusals.FaultOfGoal(goal)) is { } refusal
            ? refusal
            : [new ProjectGoalChanged(goal!, now, now)];
    }

    /// <summary>
    /// Promises the end of a started project for another date; the first promise stays readable.
    /// Refuses: <c>project.not_started</c>, <c>project.finished</c>, <c>project.dropped</c>,
    /// <c>project.finish_by_invalid</c>, <c>project.reason_alone</c>, <c>reason.invalid</c>.
    /// </summary>
    /// <param name="reason">Why it moves; a reason alone says nothing and is refused.</param>
    /// <param name="today">The local date of the publisher.</param>
    public static Decision<ProjectEvent> MoveFinishBy(
        Project project, LocalDate? to, string? reason, LocalDate today, Instant now)
    {
        if (to == project.FinishBy)
        {
            return reason is null || (project.Moves is [.., { } last] && last.Reason == reason)
                ? []
                : Refusal.NotAcceptable(
                    "project.reason_alone", "A reason goes with another 'finishBy'; the date given is the one it has.",
                    "/finishByReason");
        }

        var refusal = ProjectRefusals.UnlessStarted(project)
            ?? ProjectRefusals.FaultOfFinishBy(to, earliest: today, "today or later")
            ?? ProjectRefusals.FaultOfReason(reason, "/finishByReason");

        return refusal is not null
            ? refusal
            : [new FinishByMoved(project.FinishBy!.Value, to!.Value, reason, now, now)];
    }

    /// <summary>
    /// Finishes a started project; open steps stay open. Refuses: <c>project.not_started</c>, <c>project.finished</c>
    /// when it was at another time or with another outcome, <c>project.dropped</c>, <c>occurred.future</c>,
    /// <c>project.finish_before_start</c>, <c>project.outcome_invalid</c>.
    /// </summary>
    /// <param name="at">When it was finished, UTC; null for now.</param>
    public static Decision<ProjectEvent> Finish(Project project, string? outcome, Instant? at, Instant now)
    {
        var isSo = project.State is ProjectState.Finished
            && (at ?? project.FinishedAt) == project.FinishedAt && (outcome ?? project.Outcome) == project.Outcome;

        if (isSo)
        {
            return [];
        }

        if (ProjectRefusals.UnlessStarted(project) is { } refusal)
        {
            return refusal;
        }

        if (at > now + ReleaseDecider.ClockLeeway)
        {
            return Refusal.NotAcceptable(
                "occurred.future",
                $"{at} is still to come (it is {now}); give the time it was finished, or leave it out for now.", "/at");
        }

        if (at < project.StartedAt)
        {
            return Refusal.NotAcceptable(
                "project.finish_before_start",
                $"{at} is before '{project.Title}' was started ({project.StartedAt}); give a time from then on.",
                "/at");
        }

        return Wording.FaultOfText(outcome, "An outcome") is { } fault
            ? Refusal.NotAcceptable("project.outcome_invalid", fault, "/outcome")
            : [new ProjectFinished(outcome, at ?? now, now)];
    }

    /// <summary>
    /// Takes a wrong finish back. A started project stays as it is. Refuses: <c>project.not_started</c>,
    /// <c>project.dropped</c>.
    /// </summary>
    public static Decision<ProjectEvent> Reopen(Project project, Instant now) => project.State switch
    {
        ProjectState.Finished => [new ProjectReopened(now, now)],
        _ => ProjectRefusals.UnlessStarted(project) is { } refusal ? refusal : [],
    };

    /// <summary>
    /// Gives it up, as a candidate or started. Refuses: <c>project.finished</c>, <c>reason.invalid</c>.
    /// </summary>
    public static Decision<ProjectEvent> Drop(Project project, string? reason, Instant now) => project.State switch
    {
        ProjectState.Dropped => [],
        ProjectState.Finished => ProjectRefusals.Finished(project),
        _ => ProjectRefusals.FaultOfReason(reason, "/reason") is { } refusal
            ? refusal
            : [new ProjectDropped(reason, now, now)],
    };

    /// <summary>Makes a dropped project what it was before. One that is not dropped stays as it is.</summary>
    public static Decision<ProjectEvent> Restore(Project project, Instant now) =>
        project.State is ProjectState.Dropped ? [new ProjectRestored(now, now)] : [];

    private static Refusal? FaultOfTitle(string title) => Wording.FaultOfLine(title, "A title") is { } fault
        ? Refusal.NotAcceptable("title.invalid", fault, "/title")
        : null;

    private static Refusal? FaultOfRank(int rank) => rank is >= LowestRank and <= HighestRank
        ? null
        : Refusal.NotAcceptable(
            "project.rank_invalid",
            $"A rank is 1, 2 or 3, 3 for the greatest outcome expected; {rank} is none.", "/rank");

    private static Refusal? FaultOfNote(string? note) => Wording.FaultOfText(note, "A note") is { } fault
        ? Refusal.NotAcceptable("note.invalid", fault, "/note")
        : null;
}
