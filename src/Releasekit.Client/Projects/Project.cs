using Refit;

namespace Releasekit.Client.Projects;

/// <summary>Something bigger than a release, a month or more.</summary>
/// <param name="Rank">1 to 3, 3 the highest, by the outcome expected of it.</param>
/// <param name="Goal">Null before the start, as are the dates.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished.</param>
/// <param name="PromisedBy">The date that was promised first.</param>
/// <param name="Moves">Every move of FinishBy, in the order they were made.</param>
/// <param name="Steps">In the order they were planned.</param>
/// <param name="Progress">Null before the start.</param>
public sealed record Project(
    Guid Id,
    string Title,
    ProjectState State,
    int Rank,
    string? Note,
    string? Goal,
    LocalDate? FinishBy,
    LocalDate? PromisedBy,
    IReadOnlyList<FinishByMove> Moves,
    IReadOnlyList<Step> Steps,
    Progress? Progress,
    Instant ProposedAt,
    Instant? StartedAt,
    Instant? FinishedAt,
    string? Outcome,
    Instant? DroppedAt,
    string? DroppedFor,
    long Sequence);

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

/// <summary>A move of the date a project shall be finished by.</summary>
public sealed record FinishByMove(LocalDate From, LocalDate To, Instant At, string? Reason);

/// <summary>What is to do for a project, and when.</summary>
/// <param name="Key">s1, s2, … in the order they were planned.</param>
/// <param name="AfterFinishBy">Whether it is meant for a date after the project shall be finished.</param>
public sealed record Step(
    [property: System.Text.Json.Serialization.JsonPropertyName("step")] string Key,
    string What,
    LocalDate? When,
    string? Note,
    Duration? Effort,
    bool Done,
    Instant? DoneAt,
    bool AfterFinishBy);

/// <summary>The steps done against the time used.</summary>
/// <param name="Share">Of the steps, 0 to 1; null without steps.</param>
/// <param name="TimeUsed">Of the elapsed time from the start to the end of the date to finish by.</param>
/// <param name="Standing">All of it in a sentence.</param>
/// <param name="CountedAt">The instant the time used was counted to.</param>
public sealed record Progress(
    int StepsDone, int Steps, double? Share, double TimeUsed, bool Overdue, string Standing, Instant CountedAt);

/// <summary>A project to propose.</summary>
/// <param name="Rank">2 when left out.</param>
public sealed record ProposeProject(string Title, int? Rank = null, string? Note = null);

/// <summary>What a project is started with.</summary>
/// <param name="FinishBy">After today.</param>
/// <param name="Anyway">Whether it may be shorter than four weeks.</param>
public sealed record StartProject(string Goal, LocalDate FinishBy, bool Anyway = false);

/// <summary>When a project was finished, and what came of it.</summary>
public sealed record FinishProject(Instant? At = null, string? Outcome = null);

/// <summary>Why a project is dropped.</summary>
public sealed record DropProject(string? Reason = null);

/// <summary>A step to plan.</summary>
public sealed record PlanStep(
    string What, LocalDate? When = null, string? Note = null, Duration? Effort = null);

/// <summary>Which projects to list; null lets all through.</summary>
/// <param name="Sort">rank: the highest first.</param>
public sealed record ProjectFilter(
    [property: AliasAs("state")] string? State = null,
    [property: AliasAs("rank")] int? Rank = null,
    [property: AliasAs("q")] string? Text = null,
    [property: AliasAs("sort")] string? Sort = null);
