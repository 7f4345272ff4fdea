using Quartz;
using Releasekit.Server.Clock;
using Releasekit.Server.Learning;
using Releasekit.Server.Reminders;
using Releasekit.Server.Store;

namespace Releasekit.Server.Jobs;

/// <summary>Every route of jobs, and what they need.</summary>
internal static class JobRoutes
{
    /// <summary>How long without a sign of life until a process counts as dead, and others do its jobs.</summary>
    private static readonly (TimeSpan Sign, TimeSpan Patience) Usual =
        (TimeSpan.FromSeconds(5), TimeSpan.FromSeconds(7.5));

    /// <summary>The same where the clock runs faster: a second there is long.</summary>
    private static readonly (TimeSpan Sign, TimeSpan Patience) Rehearsing =
        (TimeSpan.FromSeconds(0.5), TimeSpan.FromSeconds(1.5));

    public static IServiceCollection AddJobs(this IServiceCollection services, ClockOptions clock)
    {
        var (sign, patience) = clock.Rate > 1 ? Rehearsing : Usual;
        services.AddQuartz(quartz =>
        {
            quartz.ConfigureScheduler(scheduler =>
            {
                scheduler.InstanceName = "releasekit";
                scheduler.GenerateInstanceId = true;
            });
            quartz.UseDefaultThreadPool(4);
            quartz.UsePersistentStore(jobs =>
            {
                jobs.UsePostgres(database => database.UseRegisteredDataSource = true);
                jobs.ConfigureStore(options => options.TablePrefix = $"{JobRuns.QuartzSchema}.qrtz_");
                jobs.ProvisionSchema();
                jobs.UseClustering(cluster =>
                {
                    cluster.CheckinInterval = sign;
                    cluster.CheckinMisfireThreshold = patience;
                });
            });
        });
        services.Configure<QuartzOptions>(options => options.Scheduling.IgnoreDuplicates = true);
        services.AddSingleton<JobRuns>();
        services.AddSingleton<Mornings>();
        services.AddSingleton<RaiseReminders>();
        services.AddSingleton<KeepForecasts>();
        services.AddSingleton<JobScheduler>();
        services.AddHostedService(provider => provider.GetRequiredService<JobScheduler>());

        return services;
    }

    public static void MapJobs(this IEndpointRouteBuilder api) =>
        ListJobs.Map(api.MapGroup("/jobs").WithTags("Service"));
}
