using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>Which tasks stand where.</summary>
internal static class SheetTasks
{
    /// <summary>Tasks for a day, with the day they stand on: a task carried over stands on today.</summary>
    public static IEnumerable<(LocalDate Day, SheetTask Task)> OfDays(SheetFacts facts) =>
        from task in facts.Tasks
        let period = task.StandsIn(facts.Today)
        where period.Kind is PeriodKind.Day
        select (period.First, Show(facts, task));

    /// <summary>
    /// Tasks whose period touches the days from <paramref name="from"/> included to <paramref name="to"/> excluded and
    /// that <paramref name="isWanted"/>; the important ones first, then by the day they end on.
    /// </summary>
    public static IReadOnlyList<SheetTask> Touching(
        SheetFacts facts, LocalDate from, LocalDate to, Func<PlannedTask, CalendarPeriod, bool> isWanted) =>
    [
        .. facts.Tasks
            .Select(task => (Task: task, Period: task.StandsIn(facts.Today)))
            .Where(task => task.Period.First < to && task.Period.Last >= from && isWanted(task.Task, task.Period))
            .OrderByDescending(task => task.Task.IsImportant)
            .ThenBy(task => task.Period.Last)
            .ThenBy(task => task.Task.NotedAt)
            .Select(task => Show(facts, task.Task)),
    ];

    private static SheetTask Show(SheetFacts facts, PlannedTask task) => new(
        task.Id,
        task.Title,
        task.StandsIn(facts.Today).ToString(),
        task.IsImportant,
        task.Sphere,
        task.CompletedAt is not null,
        task.CarriedOver(facts.Today),
        task.Note);
}
