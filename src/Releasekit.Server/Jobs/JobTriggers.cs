using System.Globalization;
using Quartz;
using Releasekit.Server.Clock;

namespace Releasekit.Server.Jobs;

/// <summary>The triggers of the jobs. Quartz keeps the machine's time, jobs the service's.</summary>
internal static class JobTriggers
{
    /// <summary>However fast the service's clock goes, jobs come no closer than this.</summary>
    private static readonly TimeSpan Shortest = TimeSpan.FromMilliseconds(250);

    public static IJobDetail DetailOf(Job job) => JobBuilder.Create<RunJob>()
        .WithIdentity(job.Name)
        .WithDescription(job.What)
        .StoreDurably()
        .RequestRecovery()
        .Build();

    /// <summary>Its trigger; null for a job with times of its own.</summary>
    public static ITrigger? Of(Job job, ServiceClock clock)
    {
        if (job.Every is not { } every)
        {
            return null;
        }

        var real = clock.ToMachine(every) is var interval && interval < Shortest ? Shortest : interval;

        // The description is what a stored trigger is compared by: another interval makes another one.
        return TriggerBuilder.Create()
            .WithIdentity(job.Name)
            .ForJob(job.Name)
            .WithDescription(string.Create(CultureInfo.InvariantCulture, $"every {real.TotalSeconds} s"))
            .StartNow()
            .WithSimpleSchedule(real)
            .Build();
    }

    /// <summary>The next morning of a publisher.</summary>
    /// <param name="at">When it comes, UTC on the service's clock.</param>
    public static ITrigger MorningOf(string publisher, Instant at, ServiceClock clock) => TriggerBuilder.Create()
        .WithIdentity(MorningKey(publisher))
        .ForJob(JobTable.Morning)
        .WithDescription(NodaTime.Text.InstantPattern.General.Format(at))
        .UsingJobData(RunJob.Publisher, publisher)
        .StartAt(clock.ToMachine(at))
        .Build();

    public static TriggerKey MorningKey(string publisher) => new(publisher, JobTable.Morning);
}
