using Quartz;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Jobs;

/// <summary>
/// Starts the scheduler once the service is ready, so that nobody waits for it, and brings the stored triggers to what
/// the table says; stops it with the service.
/// </summary>
internal sealed partial class JobScheduler(
    ISchedulerFactory factory, JobRuns runs, ServiceClock clock, Readiness readiness, ILogger<JobScheduler> log)
    : BackgroundService
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan LongestStop = TimeSpan.FromSeconds(5);

    private IScheduler? _scheduler;

    /// <summary>Null until it has started.</summary>
    public IScheduler? Scheduler => _scheduler;

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);

        if (_scheduler is { } scheduler)
        {
            using var limit = new CancellationTokenSource(LongestStop);

            try
            {
                await scheduler.Shutdown(true, limit.Token).AsTask().WaitAsync(LongestStop, cancellationToken);
            }
            catch (Exception e) when (e is TimeoutException or OperationCanceledException || Outage.IsCauseOf(e))
            {
                LogLeft(log);
            }
        }
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (readiness.WaitsFor is not null)
        {
            await Task.Delay(Step, stoppingToken);
        }

        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await runs.MakeQuartzSchema(stoppingToken);
                var scheduler = await factory.GetScheduler(stoppingToken);
                await Bring(scheduler, stoppingToken);
                await scheduler.Start(stoppingToken);
                _scheduler = scheduler;
                return;
            }
            catch (Exception e) when (!stoppingToken.IsCancellationRequested)
            {
                LogPutOff(log, e);
                await Task.Delay(Again, stoppingToken);
            }
        }
    }

    /// <summary>A trigger that is missing is made; one with other times than the table's is replaced.</summary>
    private async Task Bring(IScheduler scheduler, CancellationToken cancel)
    {
        foreach (var job in JobTable.All)
        {
            await scheduler.AddJob(JobTriggers.DetailOf(job), AddJobOptions.Replacing, cancel);

            if (JobTriggers.Of(job, clock) is not { } wanted)
            {
                continue;
            }

            if (await scheduler.GetTrigger(wanted.Key, cancel) is not { } stored)
            {
                await scheduler.ScheduleTrigger(wanted, TriggerConflict.Keep, cancel);
            }
            else if (stored.Description != wanted.Description)
            {
                await scheduler.RescheduleJob(wanted.Key, wanted, cancel);
            }
        }
    }

    [LoggerMessage(LogLevel.Warning, "Jobs could not be started; that is tried again in a moment")]
    private static partial void LogPutOff(ILogger logger, Exception e);

    [LoggerMessage(LogLevel.Warning, "A job was still running when the service stopped; it is repeated")]
    private static partial void LogLeft(ILogger logger);
}
