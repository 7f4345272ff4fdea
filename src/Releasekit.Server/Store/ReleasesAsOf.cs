using Marten;
using Releasekit.Domain.Releases;

namespace Releasekit.Server.Store;

/// <summary>Reads releases with all events of many of them in one go.</summary>
internal static class ReleasesAsOf
{
    /// <summary>
    /// The releases as they were at an instant, as we know now; those that did not exist then are left out.
    /// </summary>
    /// <param name="releases">As they are now.</param>
    public static async Task<IReadOnlyList<Release>> Load(
        IQuerySession session, IEnumerable<Release> releases, Instant at, CancellationToken cancel)
    {
        var histories = await Histories(session, [.. releases.Where(one => one.PlannedAt <= at)], cancel);

        return [.. histories.Select(events => ReleaseHistory.AsKnownNow(events, at)).OfType<Release>()];
    }

    /// <summary>The events of each release, in the order they were recorded; in the order of the releases.</summary>
    public static async Task<IReadOnlyList<IReadOnlyList<Recorded>>> Histories(
        IQuerySession session, IReadOnlyList<Release> releases, CancellationToken cancel)
    {
        var ids = releases.Select(release => release.Id).ToArray();
        var stored = await session.Events.QueryAllRawEvents()
            .Where(e => ids.Contains(e.StreamId))
            .OrderBy(e => e.Sequence)
            .ToListAsync(cancel);
        var events = stored
            .Where(e => e.Data is ReleaseEvent)
            .ToLookup(e => e.StreamId, e => new Recorded(e.Version, (ReleaseEvent)e.Data));

        return [.. ids.Select(id => events[id].ToArray())];
    }
}
