using Marten;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>
/// Carries imports out behind the requests: series in turn, of each the oldest unfinished import, a batch at a time.
/// What a crash cut off, or another process left, is found by looking again.
/// </summary>
internal sealed partial class ImportWorker(
    IDocumentStore store, ImportTurns turns, ImportBatches batches, TimeProvider time, ILogger<ImportWorker> log)
    : BackgroundService
{
    private static readonly TimeSpan LookAgainAfter = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan TryAgainAfter = TimeSpan.FromSeconds(2);

    private long? _lookedAt;

    private TimeSpan UntilLook => _lookedAt is { } at ? LookAgainAfter - time.GetElapsedTime(at) : TimeSpan.Zero;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await Go(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
            }
            catch (Exception e)
            {
                LogSkipped(log, e);
                await Task.Delay(TryAgainAfter, time, stoppingToken)
                    .ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
    }

    private async Task Go(CancellationToken cancel)
    {
        if (UntilLook <= TimeSpan.Zero)
        {
            _lookedAt = time.GetTimestamp();
            await LookForUnfinished(cancel);
        }

        if (turns.Next() is { } series)
        {
            await TakeTurn(series, cancel);
        }
        else
        {
            await turns.Wait(UntilLook, cancel);
        }
    }

    /// <summary>
    /// One batch; whatever goes wrong with it, the series gets another turn and the others get theirs.
    /// </summary>
    private async Task TakeTurn(ImportedSeries series, CancellationToken cancel)
    {
        try
        {
            if (await batches.Next(series, cancel) is { } wait)
            {
                turns.Add(series, wait);
            }
        }
        catch (Exception e) when (!cancel.IsCancellationRequested)
        {
            LogPutOff(log, e, series.Publisher, series.Series);
            turns.Add(series, TryAgainAfter);
        }
    }

    private async Task LookForUnfinished(CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        object states = ImportRun.UnfinishedStates.Select(state => $"{state}").ToArray();
        await using var command = Sql.Command("""
            select tenant_id, data ->> 'series' from releasekit.mt_doc_importrun
            where state = any($1) group by 1, 2 order by min(id::text)
            """, states);
        await using var found = await session.ExecuteReaderAsync(command, cancel);

        while (await found.ReadAsync(cancel))
        {
            turns.Add(new(found.GetString(0), found.GetString(1)));
        }
    }

    [LoggerMessage(LogLevel.Warning, "Imports wait: the unfinished ones cannot be read")]
    private static partial void LogSkipped(ILogger logger, Exception e);

    [LoggerMessage(LogLevel.Warning, "The imports of {Publisher}/{Series} wait; the next batch is tried again")]
    private static partial void LogPutOff(ILogger logger, Exception e, string publisher, string series);
}
