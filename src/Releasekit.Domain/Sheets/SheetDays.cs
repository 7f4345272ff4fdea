using Releasekit.Domain.Planning;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>Puts what there is on the days it belongs to.</summary>
internal static class SheetDays
{
    /// <summary>The days from <paramref name="from"/> included to <paramref name="to"/> excluded.</summary>
    public static IReadOnlyList<SheetDay> Between(SheetFacts facts, LocalDate from, LocalDate to)
    {
        var slots = SheetSlots.Between(facts, from, to).ToLookup(slot => facts.DateOf(slot.At));
        var dues = Dues(facts).ToLookup(due => due.Over ? facts.Today : facts.DateOf(due.LatestFinish));
        var tasks = SheetTasks.OfDays(facts).ToLookup(task => task.Day, task => task.Task);
        var appointments = Appointments(facts, from, to).ToLookup(entry => entry.Date, entry => entry.Appointment);
        var milestones = facts.Projects.SelectMany(project => MilestonesOf(facts, project))
            .ToLookup(milestone => milestone.Date, milestone => milestone.Milestone);

        return
        [
            .. Enumerable.Range(0, Period.DaysBetween(from, to)).Select(from.PlusDays).Select(date => new SheetDay(
                date,
                (int)date.DayOfWeek,
                facts.Publisher.IsWorkday(date),
                [.. slots[date].OrderBy(slot => slot.At)],
                [.. dues[date]],
                [.. tasks[date]],
                [.. appointments[date].OrderBy(entry => entry.Time ?? LocalTime.Midnight)],
                [.. milestones[date]])),
        ];
    }

    /// <summary>Open stages that must be done on some day, without the publication: its slot stands there.</summary>
    private static IEnumerable<SheetDue> Dues(SheetFacts facts) =>
        from release in facts.Releases
        from stage in BackSchedule.Of(release, facts.OwedAt(release), facts.Calendar, facts.Now).Stages
        where stage.LatestFinish is not null
        let plan = release.FindStage(stage.Key)!.Plan
        where !plan.Publication
        select new SheetDue(
            release.Id, release.Title, plan.Key, plan.Name, stage.LatestFinish!.Value, stage.LatestFinish < facts.Now);

    private static IEnumerable<(LocalDate Date, SheetAppointment Appointment)> Appointments(
        SheetFacts facts, LocalDate from, LocalDate to)
    {
        var window = new Interval(facts.Publisher.StartOf(from), facts.Publisher.StartOf(to));

        return from appointment in facts.Appointments
               from occurrence in appointment.Within(window)
               from day in DaysOf(facts, occurrence.Time)
               select (day, Show(facts, appointment, occurrence.Time, day));
    }

    private static IEnumerable<LocalDate> DaysOf(SheetFacts facts, Interval time)
    {
        var last = facts.DateOf(time.End - Duration.Epsilon);

        for (var day = facts.DateOf(time.Start); day <= last; day = day.PlusDays(1))
        {
            yield return day;
        }
    }

    /// <summary>As it looks on one of the days it touches.</summary>
    private static SheetAppointment Show(SheetFacts facts, Appointment appointment, Interval time, LocalDate day)
    {
        var begins = appointment.Time is not null && facts.DateOf(time.Start) == day;
        var ends = appointment.Time is not null && facts.DateOf(time.End) == day;

        return new(
            appointment.Id,
            appointment.Title,
            begins ? facts.TimeOf(time.Start) : null,
            ends ? facts.TimeOf(time.End) : null,
            appointment.Sphere,
            appointment.Place);
    }

    private static IEnumerable<(LocalDate Date, SheetMilestone Milestone)> MilestonesOf(
        SheetFacts facts, Project project)
    {
        if (project.StartedAt is { } startedAt)
        {
            yield return (facts.DateOf(startedAt), Mark(MilestoneKind.Started, null, true));
        }

        foreach (var step in project.Steps.Where(step => step.When is not null))
        {
            yield return (step.When!.Value, Mark(MilestoneKind.Step, step.What, step.DoneAt is not null));
        }

        if (project.FinishBy is { } finishBy)
        {
            yield return (finishBy, Mark(MilestoneKind.FinishBy, null, project.FinishedAt is not null));
        }

        if (project.FinishedAt is { } finishedAt)
        {
            yield return (facts.DateOf(finishedAt), Mark(MilestoneKind.Finished, null, true));
        }

        SheetMilestone Mark(MilestoneKind kind, string? what, bool isDone) =>
            new(project.Id, project.Title, kind, what, isDone);
    }
}
