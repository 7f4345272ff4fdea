using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Planning;

/// <param name="CountedAt">The instant it was counted from, UTC.</param>
/// <param name="HoursAWeek">Working hours a usual week was taken to hold.</param>
/// <param name="Fits">Whether all open work is finished by its due.</param>
/// <param name="Shortfall">The largest number of working hours too few for anything; zero when all fits.</param>
/// <param name="FirstOverflowOn">
/// The local date by whose end the work due by then no longer fits; null when all fits.
/// </param>
/// <param name="Remedies">
/// Releases of which any single one, if it were dropped, made all the rest fit; shown, never decided.
/// </param>
/// <param name="Releases">Open releases that hold a slot, by slot: met, or hours short.</param>
/// <param name="Stages">Open stages by predicted start.</param>
/// <param name="Tasks">Open tasks with an effort by predicted start.</param>
/// <param name="Steps">Open steps of started projects with an effort, by predicted start.</param>
internal sealed record CapacityBody(
    Instant CountedAt,
    double HoursAWeek,
    bool Fits,
    Duration Shortfall,
    LocalDate? FirstOverflowOn,
    IReadOnlyList<RemedyBody> Remedies,
    IReadOnlyList<ReleaseOutlookBody> Releases,
    IReadOnlyList<LaidStageBody> Stages,
    IReadOnlyList<LaidTaskBody> Tasks,
    IReadOnlyList<LaidStepBody> Steps);

/// <param name="Release">The id of the release.</param>
/// <param name="Title">The title of the release.</param>
internal sealed record RemedyBody(Guid Release, string Title);

/// <param name="Release">The id of the release.</param>
/// <param name="Title">The title of the release.</param>
/// <param name="SlotAt">Where its slot stands, UTC.</param>
/// <param name="ReadyAt">When the last of it is predicted to be done, UTC; null when never within reach.</param>
/// <param name="Met">Whether that is by the slot.</param>
/// <param name="Shortfall">Working hours too few; zero when it is met.</param>
/// <param name="EffortUnknown">Whether a stage of it has no effort: then it is told too hopefully.</param>
internal sealed record ReleaseOutlookBody(
    Guid Release, string Title, Instant SlotAt, Instant? ReadyAt, bool Met, Duration Shortfall, bool EffortUnknown)
{
    public static ReleaseOutlookBody Of(DueOutlook outlook, Release release) => new(
        release.Id, release.Title, outlook.DueAt, outlook.ReadyAt, outlook.IsMet, outlook.Shortfall,
        outlook.EffortUnknown);
}

/// <param name="Release">The id of the release.</param>
/// <param name="Stage">The key of the stage.</param>
/// <param name="Effort">
/// Working time it is expected to take, ISO 8601; null when nobody guessed, and then counted as none.
/// </param>
/// <param name="DueAt">When it should be done, UTC; null when nothing was promised.</param>
/// <param name="StartsAt">When its first sitting is predicted, UTC; null when never within reach.</param>
/// <param name="FinishesAt">When its last sitting is predicted to end, UTC; null when never within reach.</param>
/// <param name="Shortfall">Working hours too few before it is due; zero when it is met.</param>
internal sealed record LaidStageBody(
    Guid Release, string Stage, Duration? Effort, Instant? DueAt, Instant? StartsAt, Instant? FinishesAt,
    Duration Shortfall)
{
    public static LaidStageBody Of(LaidWork laid, Release release) => new(
        release.Id, laid.Work.Key, laid.Work.Effort, laid.Work.DueAt, laid.StartsAt, laid.FinishesAt, laid.Shortfall);
}

/// <param name="Task">The id of the task.</param>
/// <param name="Title">Its title.</param>
/// <param name="Effort">Its guessed time.</param>
/// <param name="DueAt">The end of the period it stands in, UTC.</param>
/// <param name="StartsAt">When its first sitting is predicted, UTC; null when never within reach.</param>
/// <param name="FinishesAt">When its last sitting is predicted to end, UTC; null when never within reach.</param>
/// <param name="Met">Whether that is by its due.</param>
/// <param name="Shortfall">Working hours too few; zero when it is met.</param>
internal sealed record LaidTaskBody(
    Guid Task, string Title, Duration Effort, Instant DueAt, Instant? StartsAt, Instant? FinishesAt, bool Met,
    Duration Shortfall)
{
    public static LaidTaskBody Of(LaidWork laid, PlannedTask task) => new(
        task.Id, task.Title, laid.Work.Effort!.Value, laid.Work.DueAt!.Value, laid.StartsAt, laid.FinishesAt,
        laid.Shortfall == Duration.Zero, laid.Shortfall);
}

/// <param name="Project">The id of the project.</param>
/// <param name="Title">The title of the project.</param>
/// <param name="Step">The key of the step.</param>
/// <param name="What">What is to do.</param>
/// <param name="Effort">Its guessed time.</param>
/// <param name="DueAt">The end of the day it is meant for, or of the day the project was promised for, UTC.</param>
/// <param name="StartsAt">When its first sitting is predicted, UTC; null when never within reach.</param>
/// <param name="FinishesAt">When its last sitting is predicted to end, UTC; null when never within reach.</param>
/// <param name="Met">Whether that is by its due.</param>
/// <param name="Shortfall">Working hours too few; zero when it is met.</param>
internal sealed record LaidStepBody(
    Guid Project, string Title, string Step, string What, Duration Effort, Instant DueAt, Instant? StartsAt,
    Instant? FinishesAt, bool Met, Duration Shortfall)
{
    public static LaidStepBody Of(LaidWork laid, (Project Project, Step Step) open) => new(
        open.Project.Id, open.Project.Title, open.Step.Key, open.Step.What, laid.Work.Effort!.Value,
        laid.Work.DueAt!.Value, laid.StartsAt, laid.FinishesAt, laid.Shortfall == Duration.Zero, laid.Shortfall);
}
