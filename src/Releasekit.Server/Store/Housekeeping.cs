using Releasekit.Server.Clock;
using Releasekit.Server.Entries;

namespace Releasekit.Server.Store;

/// <summary>Once an hour: what was only kept for a while is forgotten, what time brings is made.</summary>
internal sealed partial class Housekeeping(
    IdempotencyKeys keys, EntryUpkeep entries, ServiceClock clock, ILogger<Housekeeping> log) : BackgroundService
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
                await entries.Run(clock.Now, stoppingToken);
            }
            catch (Exception e) when (!stoppingToken.IsCancellationRequested)
            {
                LogSkipped(log, e);
            }
        }
    }

    [LoggerMessage(LogLevel.Warning, "Housekeeping was skipped; it is tried again in an hour")]
    private static partial void LogSkipped(ILogger logger, Exception e);
}
