using System.Diagnostics;

namespace Releasekit.Domain.Work;

/// <summary>Something bigger than a release, a month or more, as its events leave it.</summary>
public sealed record Project
{
    /// <summary>Given when it was proposed.</summary>
    public required Guid Id { get; init; }

    /// <summary>One line.</summary>
    public required string Title { get; init; }

    /// <summary>1 to 3, 3 the highest, by the outcome expected of it.</summary>
    public required int Rank { get; init; }

    /// <summary>What is noted with it; null when nothing is.</summary>
    public string? Note { get; init; }

    /// <summary>What will be there when it is finished; null before it is started.</summary>
    public string? Goal { get; init; }

    /// <summary>The local date by whose end it shall be finished; null before it is started.</summary>
    public LocalDate? FinishBy { get; init; }

    /// <summary>The date promised first, whatever was moved since; null before it is started.</summary>
    public LocalDate? PromisedBy { get; init; }

    /// <summary>Every move of the date it shall be finished by, in the order they were made.</summary>
    public IReadOnlyList<FinishByMove> Moves { get; init; } = [];

    /// <summary>In the order they were planned.</summary>
    public IReadOnlyList<Step> Steps { get; init; } = [];

    /// <summary>How many steps were ever planned; a removed one's key is not given again.</summary>
    public int StepsPlanned { get; init; }

    /// <summary>When it was proposed, UTC.</summary>
    public Instant ProposedAt { get; init; }

    /// <summary>When it was started, UTC; null for one that never was. It counts in that year for good.</summary>
    public Instant? StartedAt { get; init; }

    /// <summary>When it was finished, UTC; null while it is not.</summary>
    public Instant? FinishedAt { get; init; }

    /// <summary>What came of it; null while it is not finished and when nobody said.</summary>
    public string? Outcome { get; init; }

    /// <summary>When it was dropped, UTC; null while it is not.</summary>
    public Instant? DroppedAt { get; init; }

    /// <summary>Why it was dropped; null while it is not and when nobody said.</summary>
    public string? DroppedFor { get; init; }

    /// <summary>Kept beside the events that decide it, so that lists can be filtered by it.</summary>
    public ProjectState State { get; init; }

    /// <summary>The number of its latest event, counting from 1.</summary>
    public long Sequence { get; init; }

    /// <summary>When the latest event was recorded, UTC.</summary>
    public Instant ChangedAt { get; init; }

    /// <summary>The step of that key; null when the project has none.</summary>
    public Step? FindStep(string key) => Steps.FirstOrDefault(step => step.Key == key);

    /// <summary>The project after one more event. Every event has exactly one line here.</summary>
    /// <param name="sequence">The number of the event in this project, counting from 1.</param>
    public static Project Evolve(Project? before, long sequence, ProjectEvent happened)
    {
        var after = (before, happened) switch
        {
            (null, ProjectProposed e) => Proposed(e),
            ({ } p, ProjectRetitled e) => p with { Title = e.Title },
            ({ } p, ProjectRanked e) => p with { Rank = e.Rank },
            ({ } p, ProjectNoteChanged e) => p with { Note = e.Note },
            ({ } p, ProjectStarted e) => p.Started(e),
            ({ } p, ProjectGoalChanged e) => p with { Goal = e.Goal },
            ({ } p, StepPlanned e) => p with
            {
                Steps = [.. p.Steps, new(e.Step, e.What, e.When, e.Note, DoneAt: null, e.Effort)],
                StepsPlanned = p.StepsPlanned + 1,
            },
            ({ } p, StepChanged e) =>
                p.With(e.Step, step => step with { What = e.What, When = e.When, Note = e.Note, Effort = e.Effort }),
            ({ } p, StepFinished e) => p.With(e.Step, step => step with { DoneAt = e.OccurredAt }),
            ({ } p, StepReopened e) => p.With(e.Step, step => step with { DoneAt = null }),
            ({ } p, StepRemoved e) => p with { Steps = [.. p.Steps.Where(step => step.Key != e.Step)] },
            ({ } p, FinishByMoved e) => p with
            {
                FinishBy = e.To,
                Moves = [.. p.Moves, new(e.From, e.To, e.OccurredAt, e.Reason)],
            },
            ({ } p, ProjectFinished e) => p with { FinishedAt = e.OccurredAt, Outcome = e.Outcome },
            ({ } p, ProjectReopened) => p with { FinishedAt = null, Outcome = null },
            ({ } p, ProjectDropped e) => p with { DroppedAt = e.OccurredAt, DroppedFor = e.Reason },
            ({ } p, ProjectRestored) => p with { DroppedAt = null, DroppedFor = null },
            _ => throw new UnreachableException($"{happened.GetType().Name} cannot follow {before?.State}."),
        };

        return after with { State = after.Reached(), Sequence = sequence, ChangedAt = happened.RecordedAt };
    }

    private static Project Proposed(ProjectProposed e) =>
        new() { Id = e.Project, Title = e.Title, Rank = e.Rank, Note = e.Note, ProposedAt = e.OccurredAt };

    private Project Started(ProjectStarted e) =>
        this with { Goal = e.Goal, FinishBy = e.FinishBy, PromisedBy = e.FinishBy, StartedAt = e.OccurredAt };

    private Project With(string key, Func<Step, Step> change) =>
        this with { Steps = [.. Steps.Select(step => step.Key == key ? change(step) : step)] };

    private ProjectState Reached() => this switch
    {
        { DroppedAt: not null } => ProjectState.Dropped,
        { FinishedAt: not null } => ProjectState.Finished,
        { StartedAt: not null } => ProjectState.Started,
        _ => ProjectState.Candidate,
    };
}

/// <summary>Where a project stands.</summary>
public enum ProjectState
{
    /// <summary>Thought of, not begun.</summary>
    Candidate,

    /// <summary>Begun, its end promised.</summary>
    Started,

    /// <summary>Done.</summary>
    Finished,

    /// <summary>Given up.</summary>
    Dropped,
}

/// <summary>What is to do for a project, and when.</summary>
/// <param name="Key">s1, s2, … in the order they were planned.</param>
/// <param name="When">The local date it is meant for; null when nobody said.</param>
/// <param name="DoneAt">UTC; null while it is open.</param>
/// <param name="Effort">Guessed working time; null when nobody guessed.</param>
public sealed record Step(
    string Key, string What, LocalDate? When, string? Note, Instant? DoneAt, Duration? Effort = null);

/// <summary>A move of the local date that a project shall be finished by.</summary>
/// <param name="At">When it was decided, UTC.</param>
public sealed record FinishByMove(LocalDate From, LocalDate To, Instant At, string? Reason);
