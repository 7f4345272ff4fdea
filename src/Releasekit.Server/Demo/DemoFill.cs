using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Clock;
using Releasekit.Server.Cluster;
using Releasekit.Server.Imports;
using Releasekit.Server.Publishers;
using Releasekit.Server.Store;

namespace Releasekit.Server.Demo;

/// <summary>Kept once the story is told to its end; without it, a demo was cut off and begins anew.</summary>
internal sealed record DemoMark(string Id, Instant FilledAt)
{
    public const string Only = "demo";
}

/// <summary>Fills an empty service with the demo, or leaves a filled one alone.</summary>
internal sealed class DemoFill(IDocumentStore store, StagedRows rows, ServiceClock clock, Origin origin)
{
    /// <summary>Whether the demo is there to its end.</summary>
    /// <exception cref="StartRefusal">The folder holds something else: it is left alone.</exception>
    public async Task<bool> IsDone(CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        var others = await session.Query<Publisher>().Where(publisher => publisher.Id != DemoStory.Publisher).AnyAsync(cancel);
        var mark = await session.LoadAsync<DemoMark>(DemoMark.Only, cancel);

        return others && mark is null
            ? throw new StartRefusal("This data folder holds a publisher of yours; the demo needs a folder of its own: leave --demo out, or name another with --data.")
            : mark is not null;
    }

    /// <summary>Tells the whole story; the token is the demo publisher's own.</summary>
    /// <param name="open">Opens the demo's publisher, and gives its token.</param>
    public async Task Run(string address, Func<Publisher, Task<string>> open, CancellationToken cancel)
    {
        await ErasePublisher.Erase(store, rows, DemoStory.Publisher, cancel);
        var now = clock.Now;
        var begin = DemoStory.BeginsAt(now.InZone(DateTimeZoneProviders.Tzdb[DemoStory.ZoneId]).Date);
        origin.Current = "demo";

        try
        {
            clock.StandAt(begin);
            var token = await open(new(DemoStory.Publisher, DemoStory.PublisherName, DemoStory.ZoneId, Publisher.UsualWeek, [], begin));
            using var player = new DemoPlayer(address, token, clock);
            await player.Play(DemoStory.Tell(now), cancel);
        }
        finally
        {
            origin.Current = null;
            clock.GoOn();
        }

        await using var session = store.LightweightSession();
        session.Store(new DemoMark(DemoMark.Only, now));
        await session.SaveChangesAsync(cancel);
    }
}
