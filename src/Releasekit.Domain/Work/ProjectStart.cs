using Releasekit.Domain.Publishers;

namespace Releasekit.Domain.Work;

/// <summary>
/// When a candidate may be started: with a goal and a date far enough away, and while the year still has room for it.
/// </summary>
public static class ProjectStart
{
    /// <summary>
    /// What is done sooner than this is a task. The domain says "a month or more"; the shortest month has four weeks.
    /// </summary>
    public const int ShortestWeeks = 4;

    /// <summary>
    /// Starts a candidate. The same goal and date again change nothing. Refuses: <c>project.started</c>,
    /// <c>project.finished</c>, <c>project.dropped</c>, <c>project.goal_invalid</c>, <c>project.finish_by_invalid</c>,
    /// <c>project.too_short</c>, <c>project.limit</c>.
    /// </summary>
    /// <param name="startedThisYear">Titles of the projects started in <see cref="YearOf"/>, whatever became of
    /// them.</param>
    public static Decision<ProjectEvent> Decide(
        Project project, StartTerms terms, Publisher publisher, IReadOnlyList<string> startedThisYear, Instant now)
    {
        if (project.State is ProjectState.Started)
        {
            return (project.Goal, project.FinishBy) == (terms.Goal, terms.FinishBy) ? [] : AlreadyStarted(project);
        }

        var today = publisher.DateAt(now);
        var refusal = ProjectRefusals.UnlessOpen(project)
            ?? ProjectRefusals.FaultOfGoal(terms.Goal)
            ?? ProjectRefusals.FaultOfFinishBy(terms.FinishBy, today.PlusDays(1), "a date after today")
            ?? TooShort(terms, today)
            ?? OverLimit(publisher, startedThisYear, today.Year);

        return refusal is not null ? refusal : [new ProjectStarted(terms.Goal, terms.FinishBy, now, now)];
    }

    /// <summary>
    /// The calendar year of the publisher's zone that <paramref name="now"/> lies in; the end is excluded.
    /// </summary>
    public static Interval YearOf(Publisher publisher, Instant now)
    {
        var first = new LocalDate(publisher.DateAt(now).Year, 1, 1);
        return new(publisher.StartOf(first), publisher.StartOf(first.PlusYears(1)));
    }

    private static Refusal AlreadyStarted(Project project) => new(
        "project.started",
        $"'{project.Title}' was started at {project.StartedAt}; PATCH changes its goal and the date to finish by.");

    private static Refusal? TooShort(StartTerms terms, LocalDate today)
    {
        var soonest = today.PlusWeeks(ShortestWeeks);

        return terms.Anyway || terms.FinishBy >= soonest
            ? null
            : Refusal.NotAcceptable(
                "project.too_short",
                $"By {terms.FinishBy:uuuu-MM-dd} there are fewer than {ShortestWeeks} weeks; what is done so soon is "
                + $"better kept as a task. A project is finished by {soonest:uuuu-MM-dd} or later, or is started all "
                + "the same with \"anyway\": true.",
                "/finishBy");
    }

    private static Refusal? OverLimit(Publisher publisher, IReadOnlyList<string> startedThisYear, int year)
    {
        if (startedThisYear.Count < publisher.ProjectsAYear)
        {
            return null;
        }

        var started = startedThisYear.Count == 0
            ? "none"
            : string.Join(", ", startedThisYear.Select(title => $"'{title}'"));

        return new(
            "project.limit",
            $"The limit of projects started in a year is {publisher.ProjectsAYear}; started in {year}: {started}. "
            + $"Wait for {year + 1}, or raise 'projectsAYear' with PATCH /v1/publisher.");
    }
}

/// <summary>What a project is started with.</summary>
/// <param name="Goal">What will be there when it is finished.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished; after today.</param>
/// <param name="Anyway">Whether it may be shorter than a project is.</param>
public sealed record StartTerms(string Goal, LocalDate FinishBy, bool Anyway = false);
