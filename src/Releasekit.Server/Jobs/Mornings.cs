using Marten;
using Quartz;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Clock;
using Releasekit.Server.Reminders;

namespace Releasekit.Server.Jobs;

/// <summary>
/// The moment of the day at which a publisher wants to be reminded: a trigger for each, set anew every day from its
/// local time, as clocks are put forward and back (RFC 5545, 3.3.5; a cron rule would read them otherwise).
/// </summary>
internal sealed class Mornings(
    IDocumentStore store, ISchedulerFactory schedulers, RaiseReminders reminders, ServiceClock clock)
{
    /// <summary>Raises what is owed to a publisher and sets its next morning; nothing for one that is gone.</summary>
    public async Task Run(string? id, CancellationToken cancel)
    {
        await using var session = store.QuerySession();

        if (id is not null && await session.LoadAsync<Publisher>(id, cancel) is { } publisher)
        {
            await reminders.Run(publisher, cancel);
            await Set(await schedulers.GetScheduler(cancel), publisher, cancel);
        }
    }

    /// <summary>Sets the next morning of every publisher where it is missing or at another time.</summary>
    public async Task Set(CancellationToken cancel)
    {
        var scheduler = await schedulers.GetScheduler(cancel);
        await using var session = store.QuerySession();

        foreach (var publisher in await session.Query<Publisher>().ToListAsync(cancel))
        {
            await Set(scheduler, publisher, cancel);
        }
    }

    /// <summary>The first instant after <paramref name="now"/> at which it is that time there, UTC.</summary>
    public static Instant Next(Publisher publisher, Instant now)
    {
        var zone = LocalTimes.FindZone(publisher.Zone)!;
        var today = publisher.DateAt(now);

        return Enumerable.Range(0, 3)
            .Select(days => LocalTimes.ToInstant(today.PlusDays(days).At(publisher.Reminders.RemindAt), zone))
            .First(at => at > now);
    }

    private async Task Set(IScheduler scheduler, Publisher publisher, CancellationToken cancel)
    {
        var wanted = JobTriggers.MorningOf(publisher.Id, Next(publisher, clock.Now), clock);
        var stored = await scheduler.GetTrigger(wanted.Key, cancel);

        if (stored is null)
        {
            await scheduler.ScheduleTrigger(wanted, TriggerConflict.Keep, cancel);
        }
        else if (stored.Description != wanted.Description && IsAhead(stored))
        {
            await scheduler.RescheduleJob(wanted.Key, wanted, cancel);
        }
    }

    /// <summary>One that is due now is left to fire; it sets the next itself.</summary>
    private bool IsAhead(ITrigger stored) =>
        stored.NextFireTimeUtc is { } next && next > clock.ToMachine(clock.Now);
}
