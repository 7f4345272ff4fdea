using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Quartz;
using Releasekit.Client;
using Releasekit.Server.Access;
using Releasekit.Server.Jobs;
using Job = Releasekit.Client.Jobs.Job;

namespace Releasekit.Server.Tests.Jobs;

/// <summary>What the service does by itself, with its real store.</summary>
public class JobTests(Service service)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_job_runs_and_is_shown_with_its_next_time_and_its_runs()
    {
        await using var own = await service.StartAnother(withJobs: true);
        var publisher = await own.NewPublisher();

        var jobs = await Until(publisher, all => all.Where(job => job.Name != "morning").All(HasRun));

        Assert.Equal(
            ["reminders", "morning", "mornings", "forecasts", "upkeep", "housekeeping"], jobs.Select(job => job.Name));
        Assert.All(jobs.Where(HasRun), job => Assert.False(job.Runs[0].Failed, job.Runs[0].Reason));
        Assert.All(jobs.Where(HasRun), job => Assert.NotNull(job.NextAt));
    }

    [Fact]
    public async Task Only_an_operator_sees_them()
    {
        var publisher = await service.NewPublisher(Scope.Read, Scope.Write, Scope.Admin);

        Assert.Equal("forbidden", (await publisher.Client.Jobs.List().Problem()).Code);
    }

    [Fact]
    public async Task A_schedule_that_was_changed_in_code_takes_effect_on_an_old_database()
    {
        await using var first = await service.StartAnother(withJobs: true);
        var publisher = await first.NewPublisher();
        await Until(publisher, all => HasRun(all[0]));
        await Execute(first.Database!, """
            update quartz.qrtz_triggers set description = 'every 7 s' where trigger_name = 'upkeep';
            update quartz.qrtz_simple_triggers set repeat_interval = 7000 where trigger_name = 'upkeep'
            """);

        await using var second = await service.StartAnother(first.Database, withJobs: true);
        await WaitFor(async () => await DescriptionOf(second) == "every 3600 s");

        Assert.Equal("every 3600 s", await DescriptionOf(second));
    }

    [Fact]
    public async Task Each_publisher_has_a_morning_at_its_local_time_that_follows_its_settings()
    {
        await using var own = await service.StartAnother(withJobs: true);
        var publisher = await own.NewPublisher();
        await Until(publisher, all => HasRun(all[2]));
        var mornings = own.Services.GetRequiredService<Mornings>();

        await mornings.Set(Cancel);
        var before = await MorningOf(own, publisher);
        var settings = await publisher.Client.Publishers.Get();
        await publisher.Client.Publishers.Change(
            new(Reminders: new(RemindAt: new LocalTime(6, 15))), settings.Headers!.ETag!.Tag).Value();
        await mornings.Set(Cancel);
        var after = await MorningOf(own, publisher);

        Assert.Equal(new LocalTime(8, 0), Local(before!.Value));
        Assert.Equal(new LocalTime(6, 15), Local(after!.Value));
    }

    private static bool HasRun(Job job) => job.Runs.Any(run => run.EndedAt is not null);

    private static LocalTime Local(DateTimeOffset at) => Instant.FromDateTimeOffset(at)
        .InZone(DateTimeZoneProviders.Tzdb["Europe/Lisbon"]).TimeOfDay.With(TimeAdjusters.TruncateToSecond);

    private static async Task<DateTimeOffset?> MorningOf(Service own, TestPublisher publisher)
    {
        var scheduler = own.Services.GetRequiredService<JobScheduler>().Scheduler!;
        return (await scheduler.GetTrigger(JobTriggers.MorningKey(publisher.Id), Cancel))?.NextFireTimeUtc;
    }

    private static async Task<string?> DescriptionOf(Service own) =>
        own.Services.GetRequiredService<JobScheduler>().Scheduler is { } scheduler
            ? (await scheduler.GetTrigger(new TriggerKey("upkeep"), Cancel))?.Description
            : null;

    private static async Task<IReadOnlyList<Job>> Until(
        TestPublisher publisher, Func<IReadOnlyList<Job>, bool> isReached)
    {
        IReadOnlyList<Job> jobs = [];
        await WaitFor(async () => isReached(jobs = (await publisher.Client.Jobs.List().Value()).Items));
        return jobs;
    }

    private static async Task WaitFor(Func<Task<bool>> isReached)
    {
        for (var waits = 0; waits < 300 && !await isReached(); waits++)
        {
            await Task.Delay(100, Cancel);
        }
    }

    private static async Task Execute(string database, string sql)
    {
        await using var connection = new NpgsqlConnection(database);
        await connection.OpenAsync(Cancel);
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(Cancel);
    }
}
