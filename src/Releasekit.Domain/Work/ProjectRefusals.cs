namespace Releasekit.Domain.Work;

/// <summary>Refusals that several commands of a project share.</summary>
internal static class ProjectRefusals
{
    /// <summary>The last date that is read; the year after it is beyond every time zone's data.</summary>
    private const int LastYear = 2199;

    /// <summary>Why what is only done to a started project cannot be done to this one; null when it can.</summary>
    public static Refusal? UnlessStarted(Project project) => project.State is ProjectState.Candidate
        ? new(
            "project.not_started",
            $"'{project.Title}' is a candidate; POST …/start gives it its goal and the date to finish by first.")
        : UnlessOpen(project);

    /// <summary>Why nothing can be planned or done in it any more; null when it can.</summary>
    public static Refusal? UnlessOpen(Project project) => project.State switch
    {
        ProjectState.Dropped => Dropped(project),
        ProjectState.Finished => Finished(project),
        _ => null,
    };

    public static Refusal Dropped(Project project) => new(
        "project.dropped", $"'{project.Title}' was dropped; restore it before anything else is done with it.");

    public static Refusal Finished(Project project) => new(
        "project.finished",
        $"'{project.Title}' was finished at {project.FinishedAt}; reopen it if that was a mistake.");

    public static Refusal? FaultOfGoal(string? goal)
    {
        var fault = string.IsNullOrWhiteSpace(goal)
            ? "A started project has a goal: say what will be there when it is finished."
            : Wording.FaultOfText(goal, "A goal");

        return fault is null ? null : Refusal.NotAcceptable("project.goal_invalid", fault, "/goal");
    }

    /// <param name="right">The dates that would be right, in words.</param>
    public static Refusal? FaultOfFinishBy(LocalDate? date, LocalDate earliest, string right)
    {
        var fault = date switch
        {
            null => $"A started project has a date to finish by: {right}.",
            { } day when day < earliest => $"{day:uuuu-MM-dd} cannot be promised any more; a project is finished by "
                + $"{right}, and {earliest:uuuu-MM-dd} is the earliest date.",
            { } day => FaultOfDate(day),
        };

        return fault is null ? null : Refusal.NotAcceptable("project.finish_by_invalid", fault, "/finishBy");
    }

    public static string? FaultOfDate(LocalDate? date) => date is { Year: < 1970 or > LastYear } day
        ? $"{day:uuuu-MM-dd} is out of range; dates lie between 1970 and {LastYear}."
        : null;

    public static Refusal? FaultOfReason(string? reason, string member) =>
        Wording.FaultOfText(reason, "A reason") is { } fault
            ? Refusal.NotAcceptable("reason.invalid", fault, member)
            : null;
}
