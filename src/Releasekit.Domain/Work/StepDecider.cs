using Releasekit.Domain.Entries;

namespace Releasekit.Domain.Work;

/// <summary>What may happen to the steps of a project, while it is a candidate or started.</summary>
public static class StepDecider
{
    private const int MostSteps = 200;

    /// <summary>
    /// Plans a step at the end of the list; it may be meant for a date after the project shall be finished.
    /// Refuses: <c>project.finished</c>, <c>project.dropped</c>, <c>step.too_many</c>, <c>step.invalid</c>,
    /// <c>note.invalid</c>.
    /// </summary>
    public static Decision<ProjectEvent> Plan(Project project, StepTerms terms, Instant now)
    {
        var refusal = ProjectRefusals.UnlessOpen(project)
            ?? (project.Steps.Count < MostSteps ? null : TooMany(project))
            ?? FaultOf(terms);

        return refusal is not null
            ? refusal
            :
            [
                new StepPlanned(
                    $"s{project.StepsPlanned + 1}", terms.What, terms.When, terms.Note, now, now, terms.Effort),
            ];
    }

    /// <summary>
    /// Changes what a step is or when it is meant for, and whether it is done. Refuses: <c>step.unknown</c>,
    /// <c>project.finished</c>, <c>project.dropped</c>, <c>step.invalid</c>, <c>note.invalid</c>.
    /// </summary>
    public static Decision<ProjectEvent> Change(Project project, string key, StepTerms terms, bool done, Instant now)
    {
        if (project.FindStep(key) is not { } step)
        {
            return Unknown(project, key);
        }

        var isSame = terms == new StepTerms(step.What, step.When, step.Note, step.Effort);
        var isDone = step.DoneAt is not null;

        if (isSame && done == isDone)
        {
            return [];
        }

        if ((ProjectRefusals.UnlessOpen(project) ?? FaultOf(terms)) is { } refusal)
        {
            return refusal;
        }

        List<ProjectEvent> events = isSame
            ? []
            : [new StepChanged(key, terms.What, terms.When, terms.Note, now, now, terms.Effort)];

        if (done != isDone)
        {
            events.Add(done ? new StepFinished(key, now, now) : new StepReopened(key, now, now));
        }

        return [.. events];
    }

    /// <summary>
    /// Takes a step out. Refuses: <c>step.unknown</c>, <c>project.finished</c>, <c>project.dropped</c>.
    /// </summary>
    public static Decision<ProjectEvent> Remove(Project project, string key, Instant now) =>
        (project.FindStep(key) is null ? Unknown(project, key) : ProjectRefusals.UnlessOpen(project)) is { } refusal
            ? refusal
            : [new StepRemoved(key, now, now)];

    private static Refusal? FaultOf(StepTerms terms)
    {
        if (Wording.FaultOfLine(terms.What, "What a step is") is { } what)
        {
            return Refusal.NotAcceptable("step.invalid", what, "/what");
        }

        if (ProjectRefusals.FaultOfDate(terms.When) is { } when)
        {
            return Refusal.NotAcceptable("step.invalid", when, "/when");
        }

        if (EntryRules.FaultsOfEffort(terms.Effort).FirstOrDefault() is { } effort)
        {
            return Refusal.NotAcceptable("step.invalid", effort.Reason, effort.Member);
        }

        return Wording.FaultOfText(terms.Note, "A note") is { } note
            ? Refusal.NotAcceptable("note.invalid", note, "/note")
            : null;
    }

    private static Refusal TooMany(Project project) => new(
        "step.too_many",
        $"'{project.Title}' has {MostSteps} steps, and that is the most; remove some, or make it two projects.");

    private static Refusal Unknown(Project project, string key) => Refusal.NotAcceptable(
        "step.unknown",
        project.Steps.Count == 0
            ? $"'{project.Title}' has no steps yet."
            : $"'{project.Title}' has no step '{key}'; it has {string.Join(", ", project.Steps.Select(s => s.Key))}.");
}

/// <summary>What a step is.</summary>
/// <param name="What">One line.</param>
/// <param name="When">The local date it is meant for; null when nobody said.</param>
/// <param name="Effort">Guessed working time; null when nobody guessed.</param>
public sealed record StepTerms(string What, LocalDate? When = null, string? Note = null, Duration? Effort = null);
