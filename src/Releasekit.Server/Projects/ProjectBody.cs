using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <param name="Id">Given when it was proposed.</param>
/// <param name="Title">One line.</param>
/// <param name="State">A candidate until it is started.</param>
/// <param name="Rank">1 to 3, 3 the highest, by the outcome expected of it.</param>
/// <param name="Note">Null when nothing is noted.</param>
/// <param name="Goal">What will be there when it is finished; null before the start.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished; null before the start.</param>
/// <param name="PromisedBy">The date that was promised first, whatever was moved since.</param>
/// <param name="Moves">Every move of finishBy, in the order they were made.</param>
/// <param name="Steps">In the order they were planned.</param>
/// <param name="Progress">The steps done against the time used; null before the start.</param>
/// <param name="ProposedAt">When it was proposed.</param>
/// <param name="StartedAt">Null for one that never was started.</param>
/// <param name="FinishedAt">Null while it is not finished.</param>
/// <param name="Outcome">What came of it; null while it is not finished and when nobody said.</param>
/// <param name="DroppedAt">Null while it is not dropped.</param>
/// <param name="DroppedFor">Why it was dropped; null when nobody said.</param>
/// <param name="Sequence">The number of its latest event.</param>
internal sealed record ProjectBody(
    Guid Id,
    string Title,
    ProjectState State,
    int Rank,
    string? Note,
    string? Goal,
    LocalDate? FinishBy,
    LocalDate? PromisedBy,
    IReadOnlyList<FinishByMoveBody> Moves,
    IReadOnlyList<StepBody> Steps,
    ProgressBody? Progress,
    Instant ProposedAt,
    Instant? StartedAt,
    Instant? FinishedAt,
    string? Outcome,
    Instant? DroppedAt,
    string? DroppedFor,
    long Sequence) : ITagged
{
    /// <summary>
    /// The project as it is shown on the publisher's day of <paramref name="now"/>: time used is counted to the
    /// beginning of that day, or the ETag would be another one with every reading.
    /// </summary>
    public static ProjectBody Of(Project project, Publisher publisher, Instant now) => new(
        project.Id,
        project.Title,
        project.State,
        project.Rank,
        project.Note,
        project.Goal,
        project.FinishBy,
        project.PromisedBy,
        [.. project.Moves.Select(move => new FinishByMoveBody(move.From, move.To, move.At, move.Reason))],
        [.. project.Steps.Select(step => StepBody.Of(step, project.FinishBy))],
        ProgressBody.Of(ProjectProgress.Of(project, publisher, publisher.StartOf(publisher.DateAt(now)))),
        project.ProposedAt,
        project.StartedAt,
        project.FinishedAt,
        project.Outcome,
        project.DroppedAt,
        project.DroppedFor,
        project.Sequence);
}

/// <param name="From">The date it had.</param>
/// <param name="To">The date it got.</param>
/// <param name="At">When that was decided.</param>
/// <param name="Reason">Null when nobody said.</param>
internal sealed record FinishByMoveBody(LocalDate From, LocalDate To, Instant At, string? Reason);

/// <param name="Step">Names it in addresses: s1, s2, … in the order they were planned; never given twice.</param>
/// <param name="What">One line.</param>
/// <param name="When">The local date it is meant for; null when nobody said.</param>
/// <param name="Note">Null when nothing is noted.</param>
/// <param name="Effort">Guessed working time; null when nobody guessed.</param>
/// <param name="Done">Whether it is done.</param>
/// <param name="DoneAt">Null while it is open.</param>
/// <param name="AfterFinishBy">Whether it is meant for a date after the project shall be finished.</param>
internal sealed record StepBody(
    string Step, string What, LocalDate? When, string? Note, Duration? Effort, bool Done, Instant? DoneAt,
    bool AfterFinishBy)
{
    public static StepBody Of(Step step, LocalDate? finishBy) => new(
        step.Key, step.What, step.When, step.Note, step.Effort, step.DoneAt is not null, step.DoneAt,
        step.When > finishBy);
}

/// <param name="StepsDone">How many steps are done.</param>
/// <param name="Steps">How many there are.</param>
/// <param name="Share">Of the steps, 0 to 1; null without steps.</param>
/// <param name="TimeUsed">Of the elapsed time from the start to the end of finishBy; from 1 on it is over.</param>
/// <param name="Overdue">Whether finishBy is over and the project is not finished.</param>
/// <param name="Standing">All of it in a sentence.</param>
/// <param name="CountedAt">
/// The instant the time used was counted to: the beginning of today in the publisher's zone, or the start, finish or
/// drop.
/// </param>
internal sealed record ProgressBody(
    int StepsDone, int Steps, double? Share, double TimeUsed, bool Overdue, string Standing, Instant CountedAt)
{
    public static ProgressBody? Of(ProjectProgress? progress) => progress is { } p
        ? new(p.StepsDone, p.Steps, p.Share, p.TimeUsed, p.Overdue, p.Standing, p.CountedAt)
        : null;
}
