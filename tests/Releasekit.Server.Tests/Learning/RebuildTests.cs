using System.Text.Json;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Releasekit.Client;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Server.Http;
using Releasekit.Server.Store;
using StageState = Releasekit.Client.Releases.StageState;

namespace Releasekit.Server.Tests.Learning;

/// <summary>
/// What is read was kept event by event. Made anew from the events alone, every figure is the same to the last digit,
/// for histories that were made at random: started, blocked, reopened, amended, skipped, dropped, restored, moved to
/// other slots, over both changes of the clocks.
/// </summary>
public class RebuildTests(Service service)
{
    private static readonly Instant From = Instant.FromUtc(2025, 10, 1, 9, 0);

    private static readonly string[] Stages = ["outline", "record", "mix", "publish", "announce", "letter"];

    [Fact]
    public async Task A_rebuild_from_events_gives_the_same_figures_to_the_last_digit()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Instant.FromUtc(2026, 4, 20, 12, 0));
        var publisher = await own.NewPublisher();
        await publisher.Client.GivenASeries();
        var random = new Random(20261125);

        foreach (var number in Enumerable.Range(0, 25))
        {
            await AtRandom(publisher, number, random);
        }

        var kept = await Everything(publisher);
        var figures = await Folded(own, publisher);
        await own.Services.GetRequiredService<Rebuild>().Run(TestContext.Current.CancellationToken);
        var rebuilt = await Everything(publisher);

        Assert.Equal(kept, rebuilt);
        Assert.Equal(
            JsonSerializer.Serialize(figures, ApiJson.Options),
            JsonDocument.Parse(kept[0]).RootElement.GetProperty("figures").GetRawText());
        Assert.True(figures.Finished > 3);
    }

    /// <summary>What the API says of it all.</summary>
    private static async Task<string[]> Everything(TestPublisher publisher)
    {
        string[] paths =
        [
            "flow?from=2025-09-01&to=2026-04-20", "chart?from=2025-09-01&to=2026-04-20",
            "chart?measure=lateness&from=2025-09-01&to=2026-04-20", "cadence?from=2025-09-01&to=2026-04-20",
            "forecast", "bank", "flow?from=2025-09-01&to=2026-02-01&at=2026-01-15T00:00:00Z",
        ];
        var said = new List<string>();

        foreach (var path in paths)
        {
            said.Add(await publisher.Http.GetStringAsync(
                new Uri($"/v1/series/{Scenario.Series}/{path}", UriKind.Relative),
                TestContext.Current.CancellationToken));
        }

        said.Add(await publisher.Http.GetStringAsync(
            new Uri("/v1/releases?limit=200", UriKind.Relative), TestContext.Current.CancellationToken));

        return [.. said];
    }

    /// <summary>The flow by folding the events with the domain alone, past every document.</summary>
    private static async Task<FlowFigures> Folded(Service own, TestPublisher publisher)
    {
        var store = own.Services.GetRequiredService<IDocumentStore>();
        await using var session = store.QuerySession(publisher.Id);
        var zone = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
        var ids = await session.Query<Domain.Releases.Release>().OrderBy(one => one.Id).Select(one => one.Id)
            .ToListAsync(TestContext.Current.CancellationToken);
        var facts = new List<ReleaseFacts>();

        foreach (var id in ids)
        {
            var events = await ReleaseEventsOf.Load(session, id, TestContext.Current.CancellationToken);
            facts.Add(FactReading.Of(ReleaseHistory.Now(events)!, own.Clock.Now));
        }

        return FlowFigures.Of(
            facts, LocalTimes.ToInstant(new LocalDateTime(2025, 9, 1, 0, 0), zone),
            LocalTimes.ToInstant(new LocalDateTime(2026, 4, 20, 0, 0), zone), zone);
    }

    /// <summary>Thirty deeds, of which the service refuses what makes no sense.</summary>
    private static async Task AtRandom(TestPublisher publisher, int number, Random random)
    {
        var clock = From + Duration.FromDays(random.Next(190));
        var release = await publisher.Client.Releases.Plan(new(
            Scenario.Series, $"No. {number}", PlannedAt: clock, Slot: Free(number))).Value();

        foreach (var _ in Enumerable.Range(0, 30))
        {
            clock += Duration.FromMinutes(random.Next(1, 2_000));
            await Deed(publisher, release.Id, clock, random);
        }
    }

    private static async Task Deed(TestPublisher publisher, Guid id, Instant at, Random random)
    {
        var stage = Stages[Math.Min(random.Next(Stages.Length), random.Next(Stages.Length))];
        var releases = publisher.Client.Releases;
        var tag = (await releases.Get(id)).Headers!.ETag!.Tag;

        // Answers are not looked at: many deeds are refused, and then change nothing.
        _ = random.Next(14) switch
        {
            0 => (object)await releases.Record(id, new(stage, StageState.Skipped, at, "not needed")),
            1 => await releases.Record(id, new(stage, StageState.Blocked, at, "wind")),
            2 => await releases.Record(id, new(stage, StageState.Ready, at, "again")),
            3 when random.Next(4) == 0 => await releases.Drop(id, new("flu"), tag),
            4 => await releases.Restore(id, tag),
            5 => await releases.Amend(id, random.Next(2, 20), new(at - Duration.FromHours(random.Next(40))), tag),
            6 => await releases.Change(
                id, new Dictionary<string, object?> { ["title"] = $"Anew {random.Next(9)}" }, tag),
            7 or 8 => await releases.Record(id, new(stage, StageState.Started, at)),
            _ => await releases.Record(id, new(stage, StageState.Completed, at)),
        };
    }

    private static LocalDate? Free(int number) => number % 5 == 0 ? null : new LocalDate(2026, 1, 1).PlusWeeks(number);
}
