using System.Diagnostics;
using Marten;

namespace Releasekit.Server.Store;

/// <summary>
/// Makes anew, from the events alone, the documents that everything is read from: releases, series, projects.
/// Statistics are reckoned from these documents, so that a rebuild is the proof that they say what happened.
/// </summary>
internal sealed class Rebuild(IDocumentStore store)
{
    private static readonly TimeSpan Longest = TimeSpan.FromHours(6);

    /// <summary>
    /// From how many events, and in what time. Before anything is served here; no other process may write to the
    /// database meanwhile.
    /// </summary>
    public async Task<(long Events, TimeSpan Took)> Run(CancellationToken cancel)
    {
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        using var daemon = await store.BuildProjectionDaemonAsync();
        var watch = Stopwatch.StartNew();

        await daemon.RebuildProjectionAsync<ReleaseProjection>(Longest, cancel);
        await daemon.RebuildProjectionAsync<SeriesProjection>(Longest, cancel);
        await daemon.RebuildProjectionAsync<ProjectProjection>(Longest, cancel);

        return (await Events(cancel), watch.Elapsed);
    }

    private async Task<long> Events(CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        await using var count = Sql.Command("select count(*) from releasekit.mt_events");
        await using var rows = await session.ExecuteReaderAsync(count, cancel);
        await rows.ReadAsync(cancel);

        return rows.GetInt64(0);
    }
}
