using System.Diagnostics;
using Marten;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Work;
using Releasekit.Server.Entries;
using Releasekit.Server.Planning;
using Releasekit.Server.Projects;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Sheets;

/// <summary>Reads what sheets are made from.</summary>
internal static class SheetReading
{
    /// <summary>
    /// How far outside its days a sheet looks for slots: their original dates are in the series' own zone.
    /// </summary>
    private const int DaysAround = 7;

    /// <summary>How far ahead slots are warned of.</summary>
    private const int DaysAhead = 60;

    /// <summary>The longest an appointment lasts, in days.</summary>
    private const int LongestAppointment = 366;

    private const int MostIdeas = 6;
    private const int MostNotes = 12;

    /// <summary>
    /// Everything for the days from <paramref name="from"/> included to <paramref name="to"/> excluded.
    /// </summary>
    public static async Task<SheetFacts> Load(EntryScene scene, LocalDate from, LocalDate to)
    {
        var open = await OpenReleases.Load(scene.Documents, scene.Cancel);
        var series = await SeriesAround(scene, open.Series, from, to);
        var calendar = WorkingCalendar.Of(
            scene.Publisher, await BusyTimes.Load(scene.Documents, scene.Now, scene.Cancel));

        return new SheetFacts(
            scene.Publisher,
            scene.Now,
            series,
            await ReleasesAround(scene, open, series, from, to),
            await Tasks(scene, from, to),
            await Appointments(scene, from, to),
            await scene.Documents.Query<Project>()
                .Where(project => project.State != ProjectState.Dropped)
                .OrderBy(project => project.Id)
                .ToListAsync(scene.Cancel),
            await Ideas(scene),
            await Notes(scene, from, to),
            calendar,
            await Lay(scene, open, calendar));
    }

    private static async Task<CapacityPlan> Lay(EntryScene scene, OpenReleases open, WorkingCalendar calendar)
    {
        var tasks = await OpenTasks.Load(scene);
        var steps = await OpenSteps.Load(scene);

        return CapacityPlan.TryLay(
            [.. open.Work, .. tasks.Work, .. steps.Work], calendar, scene.Now, new CapacityQuestion(), out var fault)
            ?? throw new UnreachableException(fault);
    }

    private static async Task<IReadOnlyList<SeriesFacts>> SeriesAround(
        EntryScene scene, IEnumerable<Series> all, LocalDate from, LocalDate to)
    {
        var (first, last) = (from.PlusDays(-DaysAround), LocalDate.Max(to, scene.Today.PlusDays(DaysAhead)));
        var facts = new List<SeriesFacts>();

        foreach (var series in all.OrderBy(one => one.Title, StringComparer.OrdinalIgnoreCase))
        {
            var marks = await ReleaseMarks.Of(scene.Documents, series.Slug, scene.Cancel);
            var judged = SeriesJudgement.Judge(series, marks, last, scene.Now);
            var outcomes = judged.Slots.ToDictionary(outcome => outcome.Date);
            var earliest = LocalDate.Min(first, scene.Today.PlusDays(-DaysAhead));
            var slots = SlotCalendar.Between(series, earliest, last.PlusDays(DaysAround))
                .Concat(MovedHere(series, from, to))
                .DistinctBy(slot => slot.Date)
                .Where(slot => outcomes.ContainsKey(slot.Date))
                .OrderBy(slot => slot.Date);

            facts.Add(new(series, [.. slots.Select(slot => new JudgedSlot(slot, outcomes[slot.Date]))]));
        }

        return facts;
    }

    /// <summary>Slots that were moved into these days from wherever they were.</summary>
    private static IEnumerable<Slot> MovedHere(Series series, LocalDate from, LocalDate to) => series.SlotChanges
        .Where(change => change.To is { } at && from.PlusDays(-1) <= at.Date && at.Date <= to)
        .Select(change => SlotCalendar.Find(series, change.Slot))
        .OfType<Slot>();

    private static async Task<IReadOnlyList<Release>> ReleasesAround(
        EntryScene scene, OpenReleases open, IEnumerable<SeriesFacts> series, LocalDate from, LocalDate to)
    {
        var (start, end) = (scene.Publisher.StartOf(from), scene.Publisher.StartOf(to));
        var (first, last) = (from.PlusDays(-DaysAround), to.PlusDays(DaysAround));
        var named = series
            .SelectMany(one => one.Slots)
            .Where(slot => slot.Slot.At >= start && slot.Slot.At < end)
            .Select(slot => slot.Outcome.Release)
            .OfType<Guid>()
            .ToArray();
        var around = await scene.Documents.Query<Release>()
            .Where(release => release.State != ReleaseState.Dropped
                && ((release.Slot >= first && release.Slot < last)
                    || (release.PublishedAt >= start && release.PublishedAt < end)
                    || named.Contains(release.Id)))
            .ToListAsync(scene.Cancel);

        return [.. open.All.Concat(around).DistinctBy(release => release.Id).OrderBy(release => release.Id)];
    }

    private static Task<IReadOnlyList<Idea>> Ideas(EntryScene scene) => scene.Documents.Query<Idea>()
        .Where(idea => idea.RemovedAt == null && idea.Release == null)
        .OrderByDescending(idea => idea.Id)
        .Take(MostIdeas)
        .ToListAsync(scene.Cancel);

    private static async Task<IReadOnlyList<Note>> Notes(EntryScene scene, LocalDate from, LocalDate to)
    {
        var (start, end) = (scene.Publisher.StartOf(from), scene.Publisher.StartOf(to));

        return await scene.Documents.Query<Note>()
            .Where(note => note.RemovedAt == null && note.NotedAt >= start && note.NotedAt < end)
            .OrderByDescending(note => note.NotedAt)
            .Take(MostNotes)
            .ToListAsync(scene.Cancel);
    }

    /// <summary>Those meant for these days, and the open ones that were carried over to today.</summary>
    private static Task<IReadOnlyList<PlannedTask>> Tasks(EntryScene scene, LocalDate from, LocalDate to) =>
        scene.Documents.Query<PlannedTask>()
            .Where(task => task.RemovedAt == null
                && ((task.When.First < to && task.LastDay >= from)
                    || (task.CompletedAt == null && task.LastDay < scene.Today)))
            .OrderBy(task => task.Id)
            .ToListAsync(scene.Cancel);

    private static Task<IReadOnlyList<Appointment>> Appointments(EntryScene scene, LocalDate from, LocalDate to)
    {
        var earliest = from.PlusDays(-LongestAppointment - 1);
        var latest = to.PlusDays(1);

        return scene.Documents.Query<Appointment>()
            .Where(appointment => appointment.RemovedAt == null && appointment.Date <= latest
                && (appointment.Rule != null || appointment.Date >= earliest))
            .OrderBy(appointment => appointment.Id)
            .ToListAsync(scene.Cancel);
    }
}
