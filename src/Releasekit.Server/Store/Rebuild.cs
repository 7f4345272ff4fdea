using System.Diagnostics;
using Marten;

namespace Releasekit.Server.Store;

/// <summary>
/// Makes anew, from the events alone, the documents that everything is read from: releases, series, projects.
/// Statistics are reckoned from these documents, so that a rebuild is the proof that they say what happened.
/// </summary>
internal sealed partial class Rebuild(IDocumentStore store, ILogger<Rebuild> log)
{
    private static readonly TimeSpan Longest = TimeSpan.FromHours(6);

    /// <summary>Before anything is served here; no other process may write to the database meanwhile.</summary>
    public async Task Run(CancellationToken cancel)
    {
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        using var daemon = await store.BuildProjectionDaemonAsync();
        var watch = Stopwatch.StartNew();

        await daemon.RebuildProjectionAsync<ReleaseProjection>(Longest, cancel);
        await daemon.RebuildProjectionAsync<SeriesProjection>(Longest, cancel);
        await daemon.RebuildProjectionAsync<ProjectProjection>(Longest, cancel);

        LogDone(log, await Events(cancel), watch.Elapsed.TotalSeconds);
    }

    private async Task<long> Events(CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        await using var count = Sql.Command("select count(*) from releasekit.mt_events");
        await using var rows = await session.ExecuteReaderAsync(count, cancel);
        await rows.ReadAsync(cancel);

        return rows.GetInt64(0);
    }

    [LoggerMessage(LogLevel.Information, "Rebuilt from {Events} events in {Seconds:0.0} s")]
    private static partial void LogDone(ILogger logger, long events, double seconds);
}
