using Marten;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Domain.Statistics.Forecast;
using Releasekit.Server.Entries;
using Releasekit.Server.Planning;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Learning;

/// <summary>
/// All the work of a publisher, of all series, as of an instant. The working week, the days off and the diary are those
/// of today, also for the past.
/// </summary>
/// <param name="At">UTC.</param>
/// <param name="Series">By slug.</param>
/// <param name="Releases">In the order they were entered; closed and dropped ones without titles and guesses.</param>
/// <param name="Facts">Of the same releases.</param>
/// <param name="Worked">The working hours that went into each stage.</param>
internal sealed record WorkScene(
    Instant At,
    WorkingCalendar Calendar,
    IReadOnlyDictionary<string, Series> Series,
    IReadOnlyList<Release> Releases,
    IReadOnlyList<ReleaseFacts> Facts,
    WorkedHours Worked)
{
    /// <param name="at">As of then, as we know now that it was; null: now.</param>
    public static async Task<WorkScene> Load(
        IQuerySession session, Instant? at, Instant now, CancellationToken cancel)
    {
        var material = await WorkMaterial.Load(session, now, cancel);

        return at is { } then
            ? material.AsOf(then, await ReleasesAsOf.Load(session, material.Releases, then, cancel))
            : material.AsOf(now, material.Releases);
    }

    /// <summary>All that lies ahead, and what it is forecast from.</summary>
    public WorkAhead Ahead() => WorkAhead.Of(Releases, Facts, Series, Worked, At);

    /// <summary>The trials of what can be foreseen: at the usual pace, or as one person can do it at best.</summary>
    public WorkForecast Simulate(
        WorkAhead ahead, int seed, int trials, WorkPattern pattern = WorkPattern.UsualPace) =>
        WorkForecast.Simulate(
            TrialModel.Of(ahead.Open, pattern), Calendar, At, (ulong)seed, trials,
            (parts, part) => Parallel.For(0, parts, part));
}

/// <summary>What a scene is made from, whatever the instant.</summary>
/// <param name="Releases">As they are now, in the order they were entered; closed and dropped ones without titles.
/// </param>
internal sealed record WorkMaterial(
    WorkingCalendar Calendar, IReadOnlyDictionary<string, Series> Series, IReadOnlyList<Release> Releases)
{
    public static async Task<WorkMaterial> Load(IQuerySession session, Instant now, CancellationToken cancel)
    {
        var entries = await EntryScene.Load(session, now, cancel);
        var series = await session.Query<Series>().ToListAsync(cancel);
        var traces = await ReleaseTraces.Load(session, series: null, cancel);
        var open = (await OpenReleases.Load(session, cancel)).All.ToDictionary(release => release.Id);
        Release[] releases = [.. traces.Select(release => open.GetValueOrDefault(release.Id, release))];
        var earliest = releases.Select(release => release.PlannedAt).Append(now).Min();

        return new(
            WorkingCalendar.Of(entries.Publisher, await BusyTimes.Load(session, now, cancel, earliest)),
            series.ToDictionary(one => one.Slug),
            releases);
    }

    /// <param name="releases">As they were at that instant.</param>
    public WorkScene AsOf(Instant at, IReadOnlyList<Release> releases)
    {
        ReleaseFacts[] facts = [.. releases.Select(release => FactReading.Of(release, at))];

        return new(at, Calendar, Series, releases, facts, WorkedHours.Of(facts, at, Calendar));
    }
}
