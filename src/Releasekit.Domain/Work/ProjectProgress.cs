using System.Globalization;
using Releasekit.Domain.Publishers;

namespace Releasekit.Domain.Work;

/// <summary>How far a started project has come, against the time it has used.</summary>
/// <param name="StepsDone">Of <paramref name="Steps"/>.</param>
/// <param name="Share">Of the steps, 0 to 1; null without steps.</param>
/// <param name="TimeUsed">
/// Of the time from its start to the end of the day it shall be finished by, in the publisher's zone; passes 1 when
/// that day is over. Elapsed time, not working time.
/// </param>
/// <param name="Overdue">Whether that day is over while the project is still being worked on.</param>
/// <param name="CountedAt">The instant it was counted at, UTC.</param>
public sealed record ProjectProgress(
    int StepsDone, int Steps, double? Share, double TimeUsed, bool Overdue, Instant CountedAt)
{
    /// <summary>The progress at <paramref name="at"/>; null for a project that was never started.</summary>
    /// <remarks>
    /// What was finished or dropped stands still from then on, and nothing is counted before the start.
    /// </remarks>
    public static ProjectProgress? Of(Project project, Publisher publisher, Instant at)
    {
        if (project is not { StartedAt: { } startedAt, FinishBy: { } finishBy })
        {
            return null;
        }

        var countedAt = Instant.Max(startedAt, project.DroppedAt ?? project.FinishedAt ?? at);
        var end = publisher.StartOf(finishBy.PlusDays(1));
        var done = project.Steps.Count(step => step.DoneAt is not null);

        return new(
            done,
            project.Steps.Count,
            project.Steps.Count == 0 ? null : (double)done / project.Steps.Count,
            TimeUsedOf(startedAt, end, countedAt),
            project.State is ProjectState.Started && countedAt >= end,
            countedAt);
    }

    /// <summary>All of it in a sentence, e.g. "3 of 8 steps done with 50 % of the time used".</summary>
    public string Standing => string.Create(
        CultureInfo.InvariantCulture,
        $"{(Steps == 0 ? "no steps planned," : $"{StepsDone} of {Steps} {(Steps == 1 ? "step" : "steps")} done")} "
        + $"with {Percent} % of the time used");

    /// <summary>Whole per cent; 100 is not said before all of it is used.</summary>
    private double Percent => TimeUsed < 1
        ? Math.Min(99, Math.Round(TimeUsed * 100, MidpointRounding.AwayFromZero))
        : Math.Round(TimeUsed * 100, MidpointRounding.AwayFromZero);

    /// <summary>A publisher that moved to a zone far east may have no time left between the two.</summary>
    private static double TimeUsedOf(Instant startedAt, Instant end, Instant at) =>
        end > startedAt ? (at - startedAt) / (end - startedAt) : 1;
}
