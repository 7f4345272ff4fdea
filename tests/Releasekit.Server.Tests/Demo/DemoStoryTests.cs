using Marten;
using Microsoft.Extensions.DependencyInjection;
using Releasekit.Client;
using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Cluster;
using Releasekit.Server.Demo;
using Releasekit.Server.Publishers;

namespace Releasekit.Server.Tests.Demo;

/// <summary>The demo's story: the same from the same seed, in order, and believable once told.</summary>
public class DemoStoryTests(Service service)
{
    public static TheoryData<string> Days =>
        ["2026-11-25", "2026-11-26", "2028-02-29", "2026-03-29", "2026-10-25", "2026-12-31", "2027-08-12"];

    [Theory]
    [MemberData(nameof(Days))]
    public void The_story_is_told_in_order_up_to_now_and_the_same_each_time(string day)
    {
        var now = NodaTime.Text.LocalDatePattern.Iso.Parse(day).Value.At(new LocalTime(15, 0)).InUtc().ToInstant();

        var told = DemoStory.Tell(now);
        var again = DemoStory.Tell(now);

        Assert.Equal(told.Select(deed => (deed.At, deed.Path)), again.Select(deed => (deed.At, deed.Path)));
        Assert.Equal(told.OrderBy(deed => deed.At).Select(deed => deed.At), told.Select(deed => deed.At));
        Assert.All(told, deed =>
            Assert.True(deed.At <= now && deed.At >= DemoStory.BeginsAt(now.InUtc().Date) - Duration.FromDays(1)));
        Assert.True(told.Count > 700);
    }

    [Fact]
    public async Task A_story_cut_off_is_told_anew_and_served_by_no_ordinary_start()
    {
        await using var own = await service.StartAnother();
        var cancel = TestContext.Current.CancellationToken;
        var demo = own.Services.GetRequiredService<DemoFill>();

        await Assert.ThrowsAsync<OperationCanceledException>(() =>
            demo.Run(own.Address, _ => throw new OperationCanceledException(), cancel));

        Assert.True(await demo.IsWanted(isDemo: true, cancel));
        await Assert.ThrowsAsync<StartRefusal>(() => demo.IsWanted(isDemo: false, cancel));
    }

    [Fact]
    public async Task A_publisher_that_is_no_demo_is_refused_whatever_it_is_called()
    {
        await using var own = await service.StartAnother();
        var cancel = TestContext.Current.CancellationToken;
        var store = own.Services.GetRequiredService<IDocumentStore>();
        var publisher = new Domain.Publishers.Publisher(
            DemoStory.Publisher, "Mudflat", DemoStory.ZoneId, Domain.Publishers.Publisher.UsualWeek, [], own.Clock.Now);
        var (token, _) = CreateToken.New(publisher.Id, "owner", [Scope.Read], own.Clock.Now);
        await OpenPublisher.Store(store, publisher, token, cancel);

        var demo = own.Services.GetRequiredService<DemoFill>();

        await Assert.ThrowsAsync<StartRefusal>(() => demo.IsWanted(isDemo: true, cancel));
        Assert.False(await demo.IsWanted(isDemo: false, cancel));
    }

    [Fact]
    public async Task While_the_story_is_told_the_service_is_not_ready_and_says_why()
    {
        await using var own = await service.StartAnother();
        var asked = new ReleasekitClient(own.ClientWith(null));
        ReleasekitProblem? meanwhile = null;

        await Assert.ThrowsAsync<OperationCanceledException>(() =>
            own.Services.GetRequiredService<DemoFill>().Run(own.Address, Open, TestContext.Current.CancellationToken));

        Assert.Equal((503, "starting"), (meanwhile!.Status, meanwhile.Code));
        Assert.Contains("demo", meanwhile.Detail, StringComparison.Ordinal);

        async Task<string> Open(Domain.Publishers.Publisher publisher)
        {
            meanwhile = await asked.Service.Ready().Problem();
            throw new OperationCanceledException();
        }
    }

    [Theory]
    [InlineData("2026-11-25")]
    [InlineData("2027-08-12")]
    public async Task The_story_can_be_told_through_the_API_and_is_believable(string day)
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(
            NodaTime.Text.LocalDatePattern.Iso.Parse(day).Value.At(new LocalTime(15, 0)).InUtc().ToInstant());
        var now = own.Clock.Now;
        var store = own.Services.GetRequiredService<IDocumentStore>();
        var secret = string.Empty;

        await own.Services.GetRequiredService<DemoFill>().Run(own.Address, Open, CancellationToken.None);
        own.Clock.StandAt(now);

        var client = new ReleasekitClient(own.ClientWith(secret));
        var today = now.InUtc().Date;
        var figures = await client.Series.Adherence(DemoStory.Series, today.PlusDays(-600), today.PlusDays(1)).Value();
        var bank = await client.Releases.List(new(State: "finished")).Value();
        Assert.InRange(figures.OnTimeRate.Value!.Value, 0.75, 0.95);
        Assert.True(figures is { Late: > 3, Missed: 1, Excused: > 3, Extra: 1, Slots: >= 78 }, $"{figures}");
        Assert.Equal(2, bank.Items.Count);
        await AssertSideProjects(client);
        Assert.Equal("pass", (await client.Service.Ready().Value()).Status);

        await using var session = store.QuerySession(DemoStory.Publisher);
        var events = await session.Events.QueryAllRawEvents().ToListAsync();
        Assert.All(events, e => Assert.Equal("demo", e.GetHeader("origin")?.ToString()));
        Assert.All(events.Select(e => e.Data).OfType<ReleaseEvent>(), e =>
            Assert.True(e.OccurredAt <= e.RecordedAt && e.RecordedAt <= now));
        Assert.Superset(
            new HashSet<string> { "release.stage_blocked", "release.stage_reopened", "release.transition_amended",
                "release.stage_plan_adopted", "series.slot_moved", "release.restored", "project.step_finished",
                "project.finish_by_moved" },
            events.Select(e => e.EventTypeName).ToHashSet());

        async Task<string> Open(Domain.Publishers.Publisher publisher)
        {
            var (token, made) = CreateToken.New(publisher.Id, "owner", Enum.GetValues<Scope>(), publisher.OpenedAt);
            await OpenPublisher.Store(store, publisher, token, CancellationToken.None);
            return secret = made;
        }
    }

    private static async Task AssertSideProjects(ReleasekitClient client)
    {
        var atlas = Assert.Single((await client.Projects.List(new("started")).Value()).Items);
        var candidates = await client.Projects.List(new("candidate", Sort: "rank")).Value();
        Assert.Equal(("Estuary sound atlas", 3, 6, false), (
            atlas.Title, atlas.Progress!.StepsDone, atlas.Progress.Steps, atlas.Progress.Overdue));
        Assert.InRange(atlas.Progress.TimeUsed, 0.5, 0.6);
        Assert.Equal(atlas.PromisedBy, Assert.Single(atlas.Moves).From);
        Assert.Equal([3, 1], candidates.Items.Select(project => project.Rank));
    }
}
