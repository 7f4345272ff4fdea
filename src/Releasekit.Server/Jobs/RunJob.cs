using Quartz;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Jobs;

/// <summary>
/// Runs a job of the table and keeps a record of the run, one at a time in all processes together. A run that fails is
/// told and left: its next time comes, and what it does catches up.
/// </summary>
[DisallowConcurrentExecution]
internal sealed partial class RunJob(
    IServiceProvider services, JobRuns runs, ServiceClock clock, Readiness readiness, IHostApplicationLifetime host,
    ILogger<RunJob> log) : IJob
{
    /// <summary>Names the publisher in a trigger's data.</summary>
    public const string Publisher = "publisher";

    public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken)
    {
        // While the demo is told, the clock stands in the past.
        if (readiness.WaitsFor is not null)
        {
            return;
        }

        var job = JobTable.Find(context.JobDetail.Key.Name);
        var publisher = context.Trigger.JobDataMap.TryGetValue(Publisher, out var named) ? named as string : null;
        var run = await runs.Begin(job.Name, publisher, context.Recovering, clock.Now, cancellationToken);
        string? fault = null;

        try
        {
            await job.Run(services, publisher, cancellationToken);
        }
        catch (Exception) when (host.ApplicationStopping.IsCancellationRequested)
        {
            fault = "The service stopped meanwhile.";
        }
        catch (Exception e)
        {
            fault = e.Message.Split('\n')[0];
            LogFailed(log, e, job.Name);
        }

        await runs.End(run, fault, clock.Now, CancellationToken.None);
    }

    [LoggerMessage(LogLevel.Warning, "The job {Job} failed; it runs again at its next time")]
    private static partial void LogFailed(ILogger logger, Exception e, string job);
}
