using Marten;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Store;

/// <summary>
/// Reads the events of one project, each with its number, in the order they were recorded; empty when there is none of
/// that id.
/// </summary>
internal static class ProjectEventsOf
{
    public static async Task<IReadOnlyList<(long Sequence, ProjectEvent Event)>> Load(
        IQuerySession session, Guid id, CancellationToken cancel)
    {
        var stored = await session.Events.FetchStreamAsync(id, token: cancel);
        return [.. stored.Where(e => e.Data is ProjectEvent).Select(e => (e.Version, (ProjectEvent)e.Data))];
    }
}
