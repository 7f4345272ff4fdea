namespace Releasekit.Domain.Sheets;

/// <summary>Something that a year is remembered by.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="From">Its first local date.</param>
/// <param name="To">Its last local date; the same for a single day.</param>
/// <param name="Title">What it is called.</param>
/// <param name="Done">Whether it is behind: a task done, a project finished.</param>
public sealed record BigThing(BigThingKind Kind, LocalDate From, LocalDate To, string Title, bool Done);

/// <summary>What a year is remembered by.</summary>
public enum BigThingKind
{
    /// <summary>A project was begun.</summary>
    ProjectStarted,

    /// <summary>A project shall be finished by then.</summary>
    ProjectFinishBy,

    /// <summary>A project was finished.</summary>
    ProjectFinished,

    /// <summary>A series pauses.</summary>
    Break,

    /// <summary>Three days without work or more.</summary>
    DaysOff,

    /// <summary>A task that must not slip.</summary>
    ImportantTask,

    /// <summary>Two whole days in the diary or more.</summary>
    Appointment,
}

/// <summary>Finds them.</summary>
internal static class BigThings
{
    private const int DaysOfHoliday = 3;

    /// <summary>Those that begin from <paramref name="from"/> included to <paramref name="to"/> excluded, by date.
    /// </summary>
    public static IEnumerable<BigThing> Between(SheetFacts facts, LocalDate from, LocalDate to) =>
        Projects(facts)
            .Concat(Breaks(facts))
            .Concat(DaysOff(facts))
            .Concat(Tasks(facts))
            .Concat(Appointments(facts, from, to))
            .Where(thing => from <= thing.From && thing.From < to)
            .OrderBy(thing => thing.From)
            .ThenBy(thing => thing.Kind);

    private static IEnumerable<BigThing> Projects(SheetFacts facts)
    {
        foreach (var project in facts.Projects)
        {
            if (project.StartedAt is { } startedAt)
            {
                yield return OnDay(BigThingKind.ProjectStarted, facts.DateOf(startedAt), project.Title, true);
            }

            if (project is { FinishBy: { } finishBy, FinishedAt: null })
            {
                yield return OnDay(BigThingKind.ProjectFinishBy, finishBy, project.Title, false);
            }

            if (project.FinishedAt is { } finishedAt)
            {
                yield return OnDay(BigThingKind.ProjectFinished, facts.DateOf(finishedAt), project.Title, true);
            }
        }
    }

    private static IEnumerable<BigThing> Breaks(SheetFacts facts) =>
        from series in facts.Series
        from pause in series.Series.Breaks
        where pause.CancelledAt is null
        select new BigThing(
            BigThingKind.Break, pause.From, pause.To,
            pause.Reason is null ? series.Series.Title : $"{series.Series.Title}, {pause.Reason}",
            pause.To < facts.Today);

    private static IEnumerable<BigThing> DaysOff(SheetFacts facts)
    {
        var runs = facts.Publisher.DaysOff
            .Select((date, i) => (Date: date, Start: date.PlusDays(-i)))
            .GroupBy(day => day.Start, day => day.Date);

        return runs
            .Where(run => run.Count() >= DaysOfHoliday)
            .Select(run => new BigThing(
                BigThingKind.DaysOff, run.First(), run.Last(), "days off", run.Last() < facts.Today));
    }

    private static IEnumerable<BigThing> Tasks(SheetFacts facts) =>
        from task in facts.Tasks
        where task.IsImportant
        select new BigThing(
            BigThingKind.ImportantTask, task.When.First, task.When.Last, task.Title, task.CompletedAt is not null);

    private static IEnumerable<BigThing> Appointments(SheetFacts facts, LocalDate from, LocalDate to)
    {
        var year = new Interval(facts.Publisher.StartOf(from), facts.Publisher.StartOf(to));

        return
            from appointment in facts.Appointments
            where appointment.Time is null && appointment.Length.Days >= 2
            from occurrence in appointment.Within(year)
            select new BigThing(
                BigThingKind.Appointment, occurrence.Date, occurrence.Date.PlusDays(appointment.Length.Days - 1),
                appointment.Title, occurrence.Time.End <= facts.Now);
    }

    private static BigThing OnDay(BigThingKind kind, LocalDate date, string title, bool isDone) =>
        new(kind, date, date, title, isDone);
}
