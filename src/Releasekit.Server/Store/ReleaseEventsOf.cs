using Marten;
using Releasekit.Domain.Releases;

namespace Releasekit.Server.Store;

/// <summary>
/// Reads the events of one release, in the order they were recorded; empty when there is none of that id.
/// </summary>
internal static class ReleaseEventsOf
{
    public static async Task<IReadOnlyList<Recorded>> Load(IQuerySession session, Guid id, CancellationToken cancel)
    {
        var stored = await session.Events.FetchStreamAsync(id, token: cancel);
        return [.. stored
            .Where(e => e.Data is ReleaseEvent)
            .Select(e => new Recorded(e.Version, (ReleaseEvent)e.Data))];
    }
}
