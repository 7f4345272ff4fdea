using Releasekit.Client;
using Releasekit.Client.Ideas;

namespace Releasekit.Server.Tests.Ideas;

/// <summary>Ideas: noted with a text, compared, ranked, promoted.</summary>
public sealed class IdeaTests(Service service)
{
    [Fact]
    public async Task Much_the_same_is_pointed_out_and_hinders_nothing()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        var release = await client.GivenARelease("Eelgrass, counted by hand");
        var first = await client.Ideas.Create(new("Ask the harbour master about tide tables")).Value();

        var second = await client.Ideas.Create(new("Ask harbour master about the tide table\nand the loft")).Value();
        var third = await client.Ideas.Create(new("EELGRASS counted, by hand")).Value();
        var other = await client.Ideas.Create(new("Gulls at night")).Value();

        Assert.Equal($"/v1/ideas/{first.Id}", Assert.Single(second.Similar).Address);
        Assert.Equal($"/v1/releases/{release.Id}", Assert.Single(third.Similar).Address);
        Assert.InRange(second.Similar[0].Similarity, 0.4, 1);
        Assert.Empty(other.Similar);
    }

    [Fact]
    public async Task An_idea_becomes_a_release_that_began_when_it_was_noted()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        var noted = Instant.FromUtc(2026, 1, 20, 21, 15);
        var idea = await client.Ideas.Create(new("Rain on the estuary\nfrom the pier", NotedAt: noted)).Value();

        var release = await client.Ideas
            .Promote(idea.Id, new(Scenario.Series, Slot: new LocalDate(2026, 3, 5))).Value();
        var again = await client.Ideas.Promote(idea.Id, new(Scenario.Series)).Problem();
        var read = await client.Ideas.Get(idea.Id).Value();

        Assert.Equal(("Rain on the estuary", noted), (release.Title, release.PlannedAt));
        Assert.Equal((release.Id, Scenario.Series), (read.Release, read.Series));
        Assert.Equal(("idea.promoted", 409), (again.Code, again.Status));
        Assert.Contains(release.Id.ToString(), again.Detail);

        await client.Releases.Drop(release.Id, new("too wet")).Value();
        var second = await client.Ideas.Promote(idea.Id, new(Title: "Rain, once more")).Value();
        Assert.Equal("Rain, once more", second.Title);
    }

    [Fact]
    public async Task A_promotion_that_is_refused_leaves_the_idea_as_it_was()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        await client.GivenARelease(slot: new LocalDate(2026, 3, 5));
        var idea = await client.Ideas.Create(new("Rain on the estuary")).Value();

        var taken = await client.Ideas
            .Promote(idea.Id, new(Scenario.Series, Slot: new LocalDate(2026, 3, 5))).Problem();
        var noSeries = await client.Ideas.Promote(idea.Id, new()).Problem();

        Assert.Equal(["slot.taken", "series.unknown"], [taken.Code, noSeries.Code]);
        Assert.Equal(idea, await client.Ideas.Get(idea.Id).Value(), SameIdea);
        Assert.Single((await client.Releases.List().Value()).Items);
    }

    [Fact]
    public async Task Of_many_promotions_at_once_one_makes_the_release()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        var idea = await client.Ideas.Create(new("Rain on the estuary")).Value();

        var answers = await Task.WhenAll(
            Enumerable.Range(0, 10).Select(_ => client.Ideas.Promote(idea.Id, new(Scenario.Series))));

        Assert.Single(answers, answer => answer.IsSuccessStatusCode);
        Assert.Single((await client.Releases.List().Value()).Items);
    }

    [Fact]
    public async Task The_ranking_leaves_out_what_is_a_release_or_removed()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        var good = await client.Ideas.Create(new("good", Worth: 3, Effort: Duration.FromHours(2))).Value();
        var slow = await client.Ideas.Create(new("slow", Worth: 3, Effort: Duration.FromHours(20))).Value();
        var promoted = await client.Ideas.Create(new("promoted", Worth: 3)).Value();
        await client.Ideas.Promote(promoted.Id, new(Scenario.Series)).Value();
        var removed = await client.Ideas.Create(new("removed", Worth: 3)).Value();
        await client.Ideas.Remove(removed.Id, (await client.Ideas.Get(removed.Id)).Headers!.ETag!.Tag);

        var first = await client.Ideas.Rank(limit: 1).Value();
        var rest = await client.Ideas.Rank(limit: 1, cursor: first.Next).Value();

        Assert.Equal(
            [(1, good.Id), (2, slow.Id)], first.Items.Concat(rest.Items).Select(idea => (idea.Rank, idea.Idea.Id)));
        Assert.Null(rest.Next);
        Assert.Equal("Worth 3 for 2 h of work: 1.5 for an hour.", first.Items[0].Reason);
    }

    private static bool SameIdea(Idea one, Idea other) =>
        (one.Id, one.Text, one.Release, one.ChangedAt) == (other.Id, other.Text, other.Release, other.ChangedAt);
}
