using Marten;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;
using Releasekit.Server.Calendar;
using Releasekit.Server.Feeds;
using Releasekit.Server.Work;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>Everything a publisher's calendars hold, rendered anew.</summary>
/// <param name="today">The local date; it decides what is of late, and nothing that stands inside an object.</param>
internal sealed class Rendering(IQuerySession session, Publisher publisher, LocalDate today)
{
    private const int MonthsBack = 12;
    private const int MonthsAhead = 13;

    /// <summary>What is done is shown for so many days more: a tick by mistake can be taken back.</summary>
    private const int DaysDone = 30;

    private static readonly LocalTime EndOfTask = new(18, 0);

    private readonly DateTimeZone _zone = DateTimeZoneProviders.Tzdb[publisher.Zone];

    private LocalDate First => today.With(DateAdjusters.StartOfMonth).PlusMonths(-MonthsBack);

    private Instant DoneSince => publisher.StartOf(today.PlusDays(-DaysDone));

    /// <summary>Every collection with its objects; collections without any too.</summary>
    public async Task<IReadOnlyList<(CalendarCollection Collection, IReadOnlyList<RenderedObject> Objects)>> All(
        CancellationToken cancel)
    {
        var series = await session.Query<Series>().OrderBy(one => one.Slug).ToListAsync(cancel);
        var releases = await Releases(cancel);
        var since = publisher.StartOf(First);
        var calendar = WorkingCalendar.Of(
            publisher, await BusyTimes.Load(session, publisher.StartOf(today), cancel, since));
        var bySlug = series.ToDictionary(one => one.Slug);

        return
        [
            .. series.Select(one => Rendered(CalendarCollection.Of(one), Events(one, releases))),
            Rendered(CalendarCollection.Stages, releases.SelectMany(
                release => StageEntries.Of(release, bySlug[release.Series], calendar, since, DoneSince))),
            Rendered(CalendarCollection.Tasks, (await Tasks(cancel)).Select(Of)),
            Rendered(CalendarCollection.Projects, (await Projects(cancel)).Select(Of)),
        ];
    }

    private static (CalendarCollection, IReadOnlyList<RenderedObject>) Rendered(
        CalendarCollection collection, IEnumerable<CalendarEntry> entries) =>
        (collection, [.. entries.Select(entry => RenderedObject.Of(collection, entry))]);

    private IEnumerable<CalendarEntry> Events(Series series, IReadOnlyList<Release> releases)
    {
        var month = today.With(DateAdjusters.StartOfMonth);
        var feed = new Feed(
            Guid.Empty, publisher.Id, series.Title, [], FeedStages.None, FeedPrivacy.Full, series.OpenedAt);

        return new FeedEntries(feed, series).Of(
            [.. releases.Where(release => release.Series == series.Slug)], First, month.PlusMonths(MonthsAhead));
    }

    private async Task<IReadOnlyList<Release>> Releases(CancellationToken cancel)
    {
        var first = First;
        var since = publisher.StartOf(first);

        return await session.Query<Release>()
            .Where(release => release.State != ReleaseState.Dropped
                && (release.Slot >= first
                    || (release.Slot == null && (release.PublishedAt == null || release.PublishedAt >= since))))
            .OrderBy(release => release.Id)
            .ToListAsync(cancel);
    }

    private async Task<IReadOnlyList<PlannedTask>> Tasks(CancellationToken cancel)
    {
        var since = DoneSince;

        return await session.Query<PlannedTask>()
            .Where(task => task.RemovedAt == null && (task.CompletedAt == null || task.CompletedAt >= since))
            .OrderBy(task => task.Id)
            .ToListAsync(cancel);
    }

    private Task<IReadOnlyList<Project>> Projects(CancellationToken cancel) => session.Query<Project>()
        .Where(project => project.State == ProjectState.Started)
        .OrderBy(project => project.Id)
        .ToListAsync(cancel);

    /// <summary>Due in the evening of the last day of its period: a bare date would be read as the day's beginning.
    /// </summary>
    private TodoEntry Of(PlannedTask task) => new($"{task.Id}@task.releasekit", task.ChangedAt, task.Title)
    {
        Due = new CalendarMoment(LocalTimes.ToInstant(task.LastDay.At(EndOfTask), _zone), _zone),
        Status = task.CompletedAt is null ? TodoStatus.NeedsAction : TodoStatus.Completed,
        CompletedAt = task.CompletedAt,
        CreatedAt = task.NotedAt,
        Description = task.Note,
        Priority = task.IsImportant ? 1 : null,
    };

    private TodoEntry Of(Project project) => new($"{project.Id}@project.releasekit", project.ChangedAt, project.Title)
    {
        Due = new CalendarMoment(LocalTimes.ToInstant(project.FinishBy!.Value.At(EndOfTask), _zone), _zone),
        Status = TodoStatus.InProcess,
        CreatedAt = project.ProposedAt,
        Sequence = (int)project.Sequence,
        Description = project.Goal,
    };
}
