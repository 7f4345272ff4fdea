using Releasekit.Domain.Schedule;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Reminders;

/// <summary>Projects that should have been finished.</summary>
internal static class ProjectOccasions
{
    public static IEnumerable<Occasion> Of(SheetFacts facts) =>
        from project in facts.Projects
        where project is { State: ProjectState.Started, FinishBy: not null }
        let finishBy = project.FinishBy!.Value
        let at = LocalTimes.ToInstant(finishBy.PlusDays(1).At(facts.Publisher.Reminders.RemindAt), facts.Zone)
        let knownAt = project.Moves.Count > 0 ? project.Moves[^1].At : project.StartedAt!.Value
        where at >= knownAt
        select new Occasion(
            ReminderType.ProjectOverdue,
            $"/v1/projects/{project.Id}",
            NodaTime.Text.LocalDatePattern.Iso.Format(finishBy),
            at,
            project.Title,
            new(Project: project.Id, FinishBy: finishBy));
}
