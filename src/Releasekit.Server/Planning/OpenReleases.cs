using Marten;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;

namespace Releasekit.Server.Planning;

/// <summary>The releases of a publisher with something left to do, and where their slots stand.</summary>
internal sealed class OpenReleases
{
    private readonly Dictionary<string, Release> _releases;
    private readonly IReadOnlyDictionary<string, Series> _series;

    private OpenReleases(IEnumerable<Release> releases, IEnumerable<Series> series) =>
        (_releases, _series) = (
            releases.ToDictionary(release => release.Id.ToString()), series.ToDictionary(one => one.Slug));

    /// <summary>In the order they were entered.</summary>
    public static async Task<OpenReleases> Load(IQuerySession session, CancellationToken cancel)
    {
        var releases = await session.Query<Release>()
            .Where(release => release.State != ReleaseState.Closed && release.State != ReleaseState.Dropped)
            .OrderBy(release => release.Id)
            .ToListAsync(cancel);

        return new OpenReleases(releases, await session.Query<Series>().ToListAsync(cancel));
    }

    /// <summary>In the order they were entered.</summary>
    public IReadOnlyCollection<Release> All => _releases.Values;

    /// <summary>Every series, closed ones too.</summary>
    public IEnumerable<Series> Series => _series.Values;

    public IReadOnlyList<OpenWork> Work =>
        [.. _releases.Values.SelectMany(release => OpenWork.Of(release, SlotOf(release)))];

    /// <summary>The open release of that id; null when there is none.</summary>
    public Release? Find(string id) => _releases.GetValueOrDefault(id);

    private Instant? SlotOf(Release release) =>
        release.HeldSlot is { } date ? SlotCalendar.Find(_series[release.Series], date)?.OwedAt : null;
}
