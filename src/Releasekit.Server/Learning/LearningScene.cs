using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Learning;

/// <summary>A series with what is known of its releases as of an instant, and the window that is asked about.</summary>
/// <param name="From">First local date of the window, in the zone of the series; included.</param>
/// <param name="To">Last local date of the window; excluded.</param>
/// <param name="At">UTC.</param>
/// <param name="Facts">Of every release that existed then, dropped ones too.</param>
internal sealed record LearningScene(
    Series Series, LocalDate From, LocalDate To, Instant At, IReadOnlyList<ReleaseFacts> Facts)
{
    private const int UsualDays = 365;

    /// <summary>The window as instants; what is still to come is not in it.</summary>
    public Interval Window => new(StartOf(From), Instant.Min(StartOf(To), At));

    /// <summary>The window as instants, what is still to come too.</summary>
    public Interval Whole => new(StartOf(From), StartOf(To));

    /// <summary>Reads it, or says why it cannot.</summary>
    /// <param name="at">As of then, as we know now that it was; now when left out.</param>
    public static async Task<(LearningScene? Scene, Problem? Problem)> Load(
        IQuerySession session, string slug, DateParameter? from, DateParameter? to, InstantParameter? at, Instant now,
        CancellationToken cancel)
    {
        if (await session.LoadAsync<Series>(StreamIds.OfSeries(slug), cancel) is not { } series)
        {
            return (null, Problems.NotFound($"series '{slug}'"));
        }

        var asOf = at?.Value ?? now;
        var releases = await ReleaseTraces.Load(session, slug, cancel);
        var known = at is null ? releases : await ReleasesAsOf.Load(session, releases, asOf, cancel);

        return Of(series, known, from, to, asOf);
    }

    /// <summary>Every series of the publisher, by slug, with its releases.</summary>
    public static async Task<(IReadOnlyList<LearningScene> Scenes, Problem? Problem)> LoadAll(
        IQuerySession session, DateParameter? from, DateParameter? to, InstantParameter? at, Instant now,
        CancellationToken cancel)
    {
        var asOf = at?.Value ?? now;
        var all = await session.Query<Series>().ToListAsync(cancel);
        var releases = await ReleaseTraces.Load(session, series: null, cancel);
        var known = (at is null ? releases : await ReleasesAsOf.Load(session, releases, asOf, cancel))
            .ToLookup(release => release.Series);
        var scenes = all.OrderBy(series => series.Slug, StringComparer.Ordinal)
            .Select(series => Of(series, known[series.Slug], from, to, asOf))
            .ToArray();

        return ([.. scenes.Select(one => one.Scene).OfType<LearningScene>()],
            scenes.Select(one => one.Problem).FirstOrDefault(problem => problem is not null));
    }

    private static (LearningScene? Scene, Problem? Problem) Of(
        Series series, IEnumerable<Release> releases, DateParameter? from, DateParameter? to, Instant asOf)
    {
        var until = to?.Value ?? asOf.InZone(series.Zone).Date.PlusDays(1);
        var since = from?.Value ?? until.PlusDays(-UsualDays);

        if (Schedule.Windows.Check(since, until) is { } unfit)
        {
            return (null, unfit);
        }

        var scene = new LearningScene(
            series, since, until, asOf, [.. releases.Select(release => FactReading.Of(release, asOf))]);

        return scene.StartOf(since) < asOf && since < until
            ? (scene, null)
            : (null, Problems.Of(
                "query-invalid", "The window is empty, or still to come; 'from' lies before 'to' and before 'at'.",
                new ProblemError("from", "Too late.")));
    }

    private Instant StartOf(LocalDate date) => date.AtStartOfDayInZone(Series.Zone).ToInstant();
}
