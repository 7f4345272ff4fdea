using Quartz;
using Releasekit.Server.Reminders;
using Releasekit.Server.Store;

namespace Releasekit.Server.Jobs;

/// <summary>Every route of jobs, and what they need.</summary>
internal static class JobRoutes
{
    public static IServiceCollection AddJobs(this IServiceCollection services)
    {
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
                jobs.UseClustering(cluster => cluster.CheckinInterval = TimeSpan.FromSeconds(5));
            });
        });
        services.Configure<QuartzOptions>(options => options.Scheduling.IgnoreDuplicates = true);
        services.AddSingleton<JobRuns>();
        services.AddSingleton<Mornings>();
        services.AddSingleton<RaiseReminders>();
        services.AddSingleton<JobScheduler>();
        services.AddHostedService(provider => provider.GetRequiredService<JobScheduler>());

        return services;
    }

    public static void MapJobs(this IEndpointRouteBuilder api) =>
        ListJobs.Map(api.MapGroup("/jobs").WithTags("Service"));
}
