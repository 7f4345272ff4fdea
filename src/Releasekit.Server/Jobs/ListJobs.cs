using System.Runtime.CompilerServices;
using Quartz;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Jobs;

/// <summary>GET /v1/jobs: what the service does by itself, when, and what came of it.</summary>
internal static class ListJobs
{
    private const int MostRuns = 20;

    public static void Map(IEndpointRouteBuilder jobs) => jobs
        .MapGet("/", Handle)
        .WithName("listJobs")
        .WithSummary("List jobs")
        .WithDescription("""
            What the service does by itself: when it comes next and its latest runs, newest first. Several processes on
            one database share the work; a run without an end belongs to a process that died, and was repeated.
            """)
        .Needs(Scope.Operator);

    private static async Task<Answer<JobsBody>> Handle(
        JobScheduler scheduler, JobRuns runs, ServiceClock clock, CancellationToken cancel)
    {
        var shown = new List<JobBody>();

        foreach (var job in JobTable.All)
        {
            shown.Add(new(
                job.Name,
                job.What,
                job.Schedule,
                await NextOf(scheduler.Scheduler, job, clock, cancel),
                [.. (await runs.Latest(job.Name, MostRuns, cancel)).Select(JobRunBody.Of)]));
        }

        return new JobsBody(shown);
    }

    private static async Task<Instant?> NextOf(
        IScheduler? scheduler, Job job, ServiceClock clock, CancellationToken cancel)
    {
        if (scheduler is null)
        {
            return null;
        }

        var next = DateTimeOffset.MaxValue;

        await foreach (var trigger in TriggersOf(scheduler, job, cancel))
        {
            next = trigger.NextFireTimeUtc is { } at && at < next ? at : next;
        }

        return next == DateTimeOffset.MaxValue ? null : clock.ToService(next);
    }

    private static async IAsyncEnumerable<ITrigger> TriggersOf(
        IScheduler scheduler, Job job, [EnumeratorCancellation] CancellationToken cancel)
    {
        var page = await scheduler.QueryTriggers(new TriggerQuery { Job = new JobKey(job.Name) }, cancel);

        foreach (var found in page.Items)
        {
            if (await scheduler.GetTrigger(found.Key, cancel) is { } trigger)
            {
                yield return trigger;
            }
        }
    }
}

/// <param name="Items">In the order of the service's own table.</param>
internal sealed record JobsBody(IReadOnlyList<JobBody> Items);

/// <param name="Name">What it is called.</param>
/// <param name="What">What it does.</param>
/// <param name="Schedule">When it runs, in words.</param>
/// <param name="NextAt">When it runs next, UTC; null while jobs are not started, and for one that waits for nothing.
/// </param>
/// <param name="Runs">The latest, newest first; the last twenty at most, of the last 30 days.</param>
internal sealed record JobBody(
    string Name, string What, string Schedule, Instant? NextAt, IReadOnlyList<JobRunBody> Runs);

/// <param name="Publisher">The id of the publisher it was for; null when it was for all.</param>
/// <param name="BeganAt">UTC.</param>
/// <param name="EndedAt">UTC; null while it runs, and for good when its process died.</param>
/// <param name="Failed">Whether it failed.</param>
/// <param name="Reason">Why it failed; null when it did not.</param>
/// <param name="TakenOver">Whether it repeats a run whose process died.</param>
internal sealed record JobRunBody(
    string? Publisher, Instant BeganAt, Instant? EndedAt, bool Failed, string? Reason, bool TakenOver)
{
    public static JobRunBody Of(JobRun run) => new(
        run.Publisher, run.BeganAt, run.EndedAt, run.Fault is not null, run.Fault, run.TakenOver);
}
