using Releasekit.Domain.Schedule;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Reminders;

/// <summary>Tasks that are to be done.</summary>
internal static class TaskOccasions
{
    public static IEnumerable<Occasion> Of(SheetFacts facts) =>
        from task in facts.Tasks
        where task is { CompletedAt: null, RemovedAt: null }
        let at = RemindedAt(facts, task)
        where at >= task.NotedAt
        select new Occasion(
            ReminderType.TaskDue,
            $"/v1/tasks/{task.Id}",
            task.When.ToString(),
            at,
            task.Title,
            new(
                Task: task.Id, When: task.When.ToString(), Important: task.IsImportant,
                Personal: task.Sphere is Sphere.Personal));

    /// <summary>UTC; a local time that does not exist, or twice, as <see cref="LocalTimes"/> reads it.</summary>
    private static Instant RemindedAt(SheetFacts facts, PlannedTask task)
    {
        var settings = facts.Publisher.Reminders;
        var days = task.IsImportant ? settings.ImportantTaskDays : settings.TaskDays;

        return LocalTimes.ToInstant(
            LastWorkday(facts, task.When).PlusDays(-days).At(settings.RemindAt), facts.Zone);
    }

    /// <summary>The last day of the period on which work is done; its last day where none is.</summary>
    private static LocalDate LastWorkday(SheetFacts facts, CalendarPeriod when)
    {
        for (var day = when.Last; day >= when.First; day = day.PlusDays(-1))
        {
            if (facts.Publisher.IsWorkday(day))
            {
                return day;
            }
        }

        return when.Last;
    }
}
