namespace Releasekit.Domain.Releases;

/// <summary>
/// When a transition can have happened: not in the future, not before the release, in line with its stage.
/// </summary>
internal static class TransitionTimes
{
    public static Refusal? Check(Release release, Instant at, Instant now, string member)
    {
        if (at > now + ReleaseDecider.ClockLeeway)
        {
            return Refusal.NotAcceptable(
                "occurred.future",
                $"{at} is still to come (it is {now}); give the time it happened, or leave it out for now.", member);
        }

        return at < release.PlannedAt
            ? Refusal.NotAcceptable(
                "occurred.before_planned",
                $"{at} is before '{release.Title}' was planned ({release.PlannedAt}); "
                + "plan it with an earlier 'plannedAt' if it is older.", member)
            : null;
    }

    public static Refusal? CheckPrevious(Stage stage, Instant at) => stage.Latest is { } previous && at < previous.At
        ? Refusal.NotAcceptable(
            "occurred.before_previous",
            $"'{stage.Plan.Key}' was {Word(previous)} at {previous.At}; what comes after it cannot have happened at "
                + $"{at}. "
            + "Amend the earlier transition first if it is wrong.", "/at")
        : null;

    public static Refusal? CheckNeighbours(Stage stage, long sequence, Instant at)
    {
        var before = stage.Transitions.LastOrDefault(t => t.Sequence < sequence);
        var after = stage.Transitions.FirstOrDefault(t => t.Sequence > sequence);

        if (before is not null && at < before.At)
        {
            return OutOfLine($"not before it was {Word(before)} ({before.At})");
        }

        return after is not null && at > after.At ? OutOfLine($"not after it was {Word(after)} ({after.At})") : null;

        Refusal OutOfLine(string bound) => Refusal.NotAcceptable(
            "occurred.out_of_line", $"{at} does not fit: this transition of '{stage.Plan.Key}' was {bound}.", "/at");
    }

    private static string Word(StageTransition transition) => transition.Kind switch
    {
        TransitionKind.Started => "started",
        TransitionKind.Completed => "completed",
        TransitionKind.Skipped => "skipped",
        TransitionKind.Blocked => "blocked",
        TransitionKind.Unblocked => "unblocked",
        _ => "reopened",
    };
}
