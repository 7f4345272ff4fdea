namespace Releasekit.Domain.Work;

/// <summary>What can happen to a project. Kept for good: a field may be added with a default, never renamed.</summary>
public abstract record ProjectEvent
{
    private protected ProjectEvent(Instant occurredAt, Instant recordedAt) =>
        (OccurredAt, RecordedAt) = (occurredAt, recordedAt);

    /// <summary>When it happened, UTC; only a finish may be back-dated.</summary>
    public Instant OccurredAt { get; init; }

    /// <summary>When we were told, UTC.</summary>
    public Instant RecordedAt { get; init; }
}

/// <summary>A project was proposed: it is a candidate.</summary>
/// <param name="Rank">1 to 3, 3 the highest, by the outcome expected of it.</param>
public sealed record ProjectProposed(
    Guid Project, string Title, int Rank, string? Note, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>The project got another title.</summary>
public sealed record ProjectRetitled(string Title, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>Another outcome is expected of it.</summary>
public sealed record ProjectRanked(int Rank, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>What is noted with it changed; null when nothing is any more.</summary>
public sealed record ProjectNoteChanged(string? Note, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>Work on the project began, and its end was promised.</summary>
/// <param name="Goal">What will be there when it is finished.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished.</param>
public sealed record ProjectStarted(string Goal, LocalDate FinishBy, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>The goal was worded anew.</summary>
public sealed record ProjectGoalChanged(string Goal, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>A step was planned.</summary>
/// <param name="Step">Its key in the project: s1, s2, … in the order they were planned; never given twice.</param>
/// <param name="When">The local date it is meant for; null when nobody said.</param>
/// <param name="Effort">Guessed working time; null when nobody guessed.</param>
public sealed record StepPlanned(
    string Step, string What, LocalDate? When, string? Note, Instant OccurredAt, Instant RecordedAt,
    Duration? Effort = null)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>What a step is, when it is meant for or what is noted with it changed; told in full.</summary>
public sealed record StepChanged(
    string Step, string What, LocalDate? When, string? Note, Instant OccurredAt, Instant RecordedAt,
    Duration? Effort = null)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>A step was done.</summary>
public sealed record StepFinished(string Step, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>A step that was done is open again.</summary>
public sealed record StepReopened(string Step, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>A step is no longer part of the project.</summary>
public sealed record StepRemoved(string Step, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>The end was promised for another local date.</summary>
public sealed record FinishByMoved(
    LocalDate From, LocalDate To, string? Reason, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>The project was finished; steps that were open stay open.</summary>
/// <param name="Outcome">What came of it; null when nobody said.</param>
public sealed record ProjectFinished(string? Outcome, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>A finish was a mistake: the project goes on.</summary>
public sealed record ProjectReopened(Instant OccurredAt, Instant RecordedAt) : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>The project was given up, as a candidate or after it was started.</summary>
public sealed record ProjectDropped(string? Reason, Instant OccurredAt, Instant RecordedAt)
    : ProjectEvent(OccurredAt, RecordedAt);

/// <summary>A dropped project is again what it was before.</summary>
public sealed record ProjectRestored(Instant OccurredAt, Instant RecordedAt) : ProjectEvent(OccurredAt, RecordedAt);
