using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Clock;
using Releasekit.Server.Cluster;
using Releasekit.Server.Http;
using Releasekit.Server.Learning;
using Releasekit.Server.Publishers;
using Releasekit.Server.Reminders;
using Releasekit.Server.Store;

namespace Releasekit.Server.Demo;

/// <summary>Kept from before the first deed on: only what bears it may be erased and told anew.</summary>
/// <param name="FilledAt">When the story was told to its end; null while it is not, or was cut off.</param>
internal sealed record DemoMark(string Id, Instant? FilledAt = null)
{
    public const string Only = "demo";
}

/// <summary>Fills an empty service with the demo, or leaves a filled one alone.</summary>
internal sealed class DemoFill(
    IDocumentStore store, ServiceClock clock, Origin origin, Readiness readiness, RaiseReminders reminders,
    KeepForecasts forecasts)
{
    /// <summary>Whether the story is still to be told here.</summary>
    /// <exception cref="StartRefusal">
    /// A demo was asked for where something else lies, or an ordinary start where a demo was cut off: both are left
    /// alone.
    /// </exception>
    public async Task<bool> IsWanted(bool isDemo, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        var mark = await session.LoadAsync<DemoMark>(DemoMark.Only, cancel);

        if (isDemo && mark is null && await session.Query<Publisher>().AnyAsync(cancel))
        {
            throw new StartRefusal("This data folder holds a publisher of yours; the demo needs a folder of its own: "
                + "leave --demo out, or name another with --data.");
        }

        return (isDemo, mark) switch
        {
            (false, { FilledAt: null }) =>
                throw new StartRefusal("The demo in this data folder was cut off before its end: "
                + "start it once more with --demo, or name another folder with --data."),
            _ => isDemo && mark?.FilledAt is null,
        };
    }

    /// <summary>
    /// Tells the whole story; the token is the demo publisher's own. Until the end the service is not ready: its clock
    /// stands in the past.
    /// </summary>
    /// <param name="open">Opens the demo's publisher, and gives its token.</param>
    public async Task Run(string address, Func<Publisher, Task<string>> open, CancellationToken cancel)
    {
        readiness.WaitsFor = "The demo is still being filled, and the service's clock stands in its past until then.";
        await Keep(new DemoMark(DemoMark.Only), cancel);
        await ErasePublisher.Erase(store, DemoStory.Publisher, cancel);
        var now = clock.Now;
        var begin = DemoStory.BeginsAt(now.InZone(DateTimeZoneProviders.Tzdb[DemoStory.ZoneId]).Date);
        origin.Current = "demo";

        try
        {
            clock.StandAt(begin);
            var token = await open(
                new(DemoStory.Publisher, DemoStory.PublisherName, DemoStory.ZoneId, Publisher.UsualWeek, [], begin));
            using var player = new DemoPlayer(address, token, clock);
            await player.Play(DemoStory.Tell(now), cancel);

            await KeepForecastsOf(begin, now, cancel);

            // What is owed at the end belongs to the story: nobody is greeted with it.
            clock.StandAt(now);
            await reminders.Run(cancel);
        }
        finally
        {
            origin.Current = null;
            clock.GoOn();
        }

        await Keep(new DemoMark(DemoMark.Only, now), cancel);
        readiness.WaitsFor = null;
    }

    /// <summary>The forecasts that every day of the story would have had.</summary>
    private async Task KeepForecastsOf(Instant begin, Instant now, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        var publisher = await session.LoadAsync<Publisher>(DemoStory.Publisher, cancel);
        var (first, today) = (publisher!.DateAt(begin).PlusDays(1), publisher.DateAt(now));

        clock.StandAt(now);
        await forecasts.Catch(
            publisher, Enumerable.Range(0, Period.DaysBetween(first, today)).Select(first.PlusDays), cancel);
    }

    private async Task Keep(DemoMark mark, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        session.Store(mark);
        await session.SaveChangesAsync(cancel);
    }
}
