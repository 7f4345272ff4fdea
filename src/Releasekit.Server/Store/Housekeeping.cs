using Releasekit.Server.Clock;

namespace Releasekit.Server.Store;

/// <summary>Forgets, once an hour, what was only kept for a while.</summary>
internal sealed partial class Housekeeping(
    IdempotencyKeys keys, ServiceClock clock, ILogger<Housekeeping> log) : BackgroundService
{
    private static readonly TimeSpan Step = TimeSpan.FromHours(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            await Task.Delay(Step, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);

            try
            {
                await keys.Sweep(clock.Now, stoppingToken);
            }
            catch (OperationCanceledException)
            {
                return;
            }
            catch (Npgsql.NpgsqlException e)
            {
                LogSkipped(log, e);
            }
        }
    }

    [LoggerMessage(LogLevel.Warning, "Housekeeping was skipped; it is tried again in an hour")]
    private static partial void LogSkipped(ILogger logger, Exception e);
}
