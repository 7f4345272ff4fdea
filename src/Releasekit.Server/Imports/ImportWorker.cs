using System.Collections.Concurrent;
using System.Threading.Channels;
using Marten;
using Npgsql;
using Releasekit.Server.Clock;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>
/// Carries imports out behind the requests: several at a time, batch by batch in turn, each series one after the other,
/// and
/// each run once even with several service processes. What a crash cut off is taken up at the next start.
/// </summary>
internal sealed partial class ImportWorker(
    IDocumentStore store, NpgsqlDataSource database, StagedRows rows, ImportSteps steps, ServiceClock clock,
    ILogger<ImportWorker> log)
    : BackgroundService
{
    private static readonly TimeSpan LookAgainAfter = TimeSpan.FromSeconds(30);

    private readonly Channel<ImportRun> _woken = Channel.CreateUnbounded<ImportRun>();
    private readonly ConcurrentDictionary<Guid, Task> _running = new();
    private readonly SemaphoreSlim _turn = new(1);

    /// <summary>Tells that a run was uploaded.</summary>
    public void Wake(ImportRun run) => _woken.Writer.TryWrite(run);

    public override void Dispose()
    {
        _turn.Dispose();
        base.Dispose();
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // The database is made ready by a service that starts before this one; a run of another process may be left
        // over.
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                foreach (var run in await Unfinished(stoppingToken))
                {
                    Begin(run, stoppingToken);
                }

                using var again = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken);
                again.CancelAfter(LookAgainAfter);

                while (await _woken.Reader.WaitToReadAsync(again.Token))
                {
                    while (_woken.Reader.TryRead(out var run))
                    {
                        Begin(run, stoppingToken);
                    }
                }
            }
            catch (OperationCanceledException)
            {
            }
            catch (NpgsqlException e)
            {
                LogSkipped(log, e);
                await Task.Delay(LookAgainAfter, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }

        await Task.WhenAll(_running.Values);
    }

    private async Task<IReadOnlyList<ImportRun>> Unfinished(CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        return await session.Query<ImportRun>()
            .Where(run => run.AnyTenant() && run.State != ImportState.Done && run.State != ImportState.Failed)
            .OrderBy(run => run.Id)
            .ToListAsync(cancel);
    }

    private void Begin(ImportRun run, CancellationToken cancel) => _running.GetOrAdd(run.Id, _ => Task.Run(
        async () =>
        {
            try
            {
                await CarryOut(run, cancel);
            }
            catch (OperationCanceledException) when (cancel.IsCancellationRequested)
            {
            }
            catch (Exception e)
            {
                await Fail(run, e);
            }
            finally
            {
                _running.TryRemove(run.Id, out var _);
            }
        },
        CancellationToken.None));

    private async Task CarryOut(ImportRun begun, CancellationToken cancel)
    {
        // The lock goes with the connection, and so with the process: no lease has to be renewed.
        await using var connection = await database.OpenConnectionAsync(cancel);
        await using var hold = Sql.Command(
            "select pg_advisory_lock(hashtextextended($1, 0))", $"import {begun.Publisher}/{begun.Series}");
        hold.Connection = connection;
        hold.CommandTimeout = 0;
        await hold.ExecuteNonQueryAsync(cancel);

        try
        {
            // Another process may have finished it while this one waited.
            await using var session = store.QuerySession(begun.Publisher);
            var run = await session.LoadAsync<ImportRun>(begun.Id, cancel);

            if (run is { State: ImportState.Waiting or ImportState.Checking })
            {
                run = await steps.Check(run, Turn, cancel);
            }

            if (run is { State: ImportState.Importing })
            {
                await steps.TakeIn(run, Turn, cancel);
            }

            await rows.Forget(begun.Id, cancel);
        }
        finally
        {
            await using var release = new NpgsqlCommand("select pg_advisory_unlock_all()", connection);
            await release.ExecuteNonQueryAsync(CancellationToken.None);
        }

        async Task<IDisposable> Turn()
        {
            await _turn.WaitAsync(cancel);
            return new Turned(_turn);
        }
    }

    private async Task Fail(ImportRun begun, Exception e)
    {
        LogFailed(log, e, begun.Id);

        if (e is NpgsqlException { IsTransient: true })
        {
            return;
        }

        await using var session = store.LightweightSession(begun.Publisher);

        if (await session.LoadAsync<ImportRun>(begun.Id) is { } run)
        {
            var broken = run.With([new(0, null, "Something broke here; the log of the service says more.")]);
            session.Store(broken with { State = ImportState.Failed, FinishedAt = clock.Now });
            await session.SaveChangesAsync();
        }
    }

    [LoggerMessage(LogLevel.Error, "Import {Run} broke off")]
    private static partial void LogFailed(ILogger logger, Exception e, Guid run);

    [LoggerMessage(LogLevel.Warning, "Imports wait: the database does not answer")]
    private static partial void LogSkipped(ILogger logger, Exception e);

    private sealed class Turned(SemaphoreSlim turn) : IDisposable
    {
        public void Dispose() => turn.Release();
    }
}
