using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Learning;
using Releasekit.Server.Reminders;
using Releasekit.Server.Store;

namespace Releasekit.Server.Jobs;

/// <summary>Every job of the service and when it runs: the one place where that is said.</summary>
internal static class JobTable
{
    /// <summary>The one that runs for a publisher at its local time.</summary>
    public const string Morning = "morning";

    public static readonly IReadOnlyList<Job> All =
    [
        new("reminders", "Raises the reminders that are owed, and catches up with those that were missed.",
            Duration.FromMinutes(1),
            (services, _, cancel) => services.GetRequiredService<RaiseReminders>().Run(cancel)),

        new(Morning, "Raises a publisher's reminders at its local time, and sets the next morning.", null,
            (services, publisher, cancel) => services.GetRequiredService<Mornings>().Run(publisher, cancel)),

        new("mornings", "Sees to it that every publisher has its next morning, at the time it wants now.",
            Duration.FromMinutes(30),
            (services, _, cancel) => services.GetRequiredService<Mornings>().Set(cancel)),

        new("forecasts", "Keeps each day's forecast of every open release as it was told, to be scored afterwards.",
            Duration.FromMinutes(30),
            (services, _, cancel) => services.GetRequiredService<KeepForecasts>().Run(cancel)),

        new("upkeep", "Forgets what was removed a month ago, and makes recurring tasks a year ahead.",
            Duration.FromHours(1),
            (services, _, cancel) => services.GetRequiredService<EntryUpkeep>().Run(Now(services), cancel)),

        new("housekeeping", "Forgets answers to requests with an Idempotency-Key, and runs of jobs of a month ago.",
            Duration.FromHours(1),
            async (services, _, cancel) =>
            {
                await services.GetRequiredService<IdempotencyKeys>().Sweep(Now(services), cancel);
                await services.GetRequiredService<JobRuns>().Sweep(Now(services), cancel);
            }),
    ];

    public static Job Find(string name) => All.First(job => job.Name == name);

    private static Instant Now(IServiceProvider services) => services.GetRequiredService<ServiceClock>().Now;
}
