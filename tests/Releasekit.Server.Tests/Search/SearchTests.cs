using Releasekit.Client;

namespace Releasekit.Server.Tests.Search;

/// <summary>Everything is found by its words.</summary>
public sealed class SearchTests(Service service)
{
    [Fact]
    public async Task Every_kind_is_found_as_soon_as_it_is_there()
    {
        var client = await GivenOneOfEach();

        var hits = (await client.Search.Find("eelgrass").Value()).Items;

        Assert.Equal(
            ["appointment", "idea", "note", "project", "release", "task", "want"],
            hits.Select(hit => hit.Kind).Order());
        Assert.All(hits, hit => Assert.Contains(hit.Extract, piece => piece.Hit && piece.Text == "Eelgrass"));
        Assert.Equal("series", Assert.Single((await client.Search.Find("mudflat").Value()).Items).Kind);
    }

    [Theory]
    [InlineData("eelg")]
    [InlineData("EELGRASS")]
    [InlineData("eelgras")]
    [InlineData("eelrgass")]
    [InlineData("éelgrass")]
    [InlineData("eelgrass photographs")]
    [InlineData("fotograf eelgrass")]
    public async Task Beginnings_case_accents_and_typing_errors_are_forgiven(string q)
    {
        var client = (await service.NewPublisher()).Client;
        var want = await client.Wants.Create(new("Fotografías of Eelgrass", Note: "photographs by night")).Value();
        await client.Wants.Create(new("Hydrophone")).Value();

        Assert.Equal(want.Id, Assert.Single((await client.Search.Find(q).Value()).Items).Id);
    }

    /// <summary>Whatever PostgreSQL's parser takes a word for: a number, a host, an address.</summary>
    [Theory]
    [InlineData("潮")]
    [InlineData("7")]
    [InlineData("1e5")]
    [InlineData("0x1f")]
    [InlineData("3d5")]
    [InlineData("www.example.org")]
    [InlineData("mud@example.org")]
    [InlineData("2026-W10")]
    [InlineData("don't")]
    [InlineData("приливы")]
    [InlineData("it's the & of | to ! be")]
    public async Task Every_text_is_found_by_itself(string text)
    {
        var client = (await service.NewPublisher()).Client;
        var want = await client.Wants.Create(new(text)).Value();
        await client.Wants.Create(new("Hydrophone")).Value();

        Assert.Equal(want.Id, Assert.Single((await client.Search.Find(text).Value()).Items).Id);
    }

    [Fact]
    public async Task The_best_comes_first()
    {
        var client = (await service.NewPublisher()).Client;
        var inText = await client.Notes.Create(new("Wind\n\nThe tide was out.")).Value();
        var begins = await client.Wants.Create(new("Tidelands, the map")).Value();
        var inTitle = await client.Wants.Create(new("A tide table")).Value();

        var hits = (await client.Search.Find("tide").Value()).Items;

        Assert.Equal([inTitle.Id, begins.Id, inText.Id], hits.Select(hit => hit.Id));
        Assert.True(hits[0].Score > hits[1].Score && hits[1].Score > hits[2].Score);
    }

    [Fact]
    public async Task What_is_renamed_or_removed_is_found_by_its_new_words_or_not_at_all()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        var release = await client.GivenARelease("Gulls");
        var idea = await client.Ideas.Create(new("Gulls again")).Value();

        var tag = (await client.Releases.Get(release.Id)).Headers!.ETag!.Tag;
        await client.Releases.Change(release.Id, new() { ["title"] = "Curlews" }, tag).Value();
        await client.Ideas.Remove(idea.Id, (await client.Ideas.Get(idea.Id)).Headers!.ETag!.Tag);

        Assert.Empty((await client.Search.Find("gulls").Value()).Items);
        Assert.Equal(release.Id, Assert.Single((await client.Search.Find("curlew").Value()).Items).Id);
        await client.Ideas.Restore(idea.Id).Value();
        Assert.Equal(idea.Id, Assert.Single((await client.Search.Find("gulls").Value()).Items).Id);
    }

    [Fact]
    public async Task Nothing_of_another_publisher_is_found_not_even_its_words()
    {
        var mine = (await service.NewPublisher()).Client;
        var other = (await service.NewPublisher()).Client;
        await other.Ideas.Create(new("Bioluminescence in the lagoon")).Value();

        Assert.Empty((await mine.Search.Find("bioluminescence").Value()).Items);
        Assert.Empty((await mine.Search.Find("bioluminescense").Value()).Items);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Pages_agree_with_the_whole_also_when_the_words_were_mistyped(bool mistyped)
    {
        var client = (await service.NewPublisher()).Client;
        for (var i = 0; i < 7; i++)
        {
            await client.Notes.Create(new($"Estuary {i}")).Value();
        }

        var q = mistyped ? "estaury" : "estuary";
        var whole = (await client.Search.Find(q).Value()).Items.Select(hit => hit.Id).ToArray();
        var paged = new List<Guid>();

        for (string? next = null; ;)
        {
            var page = await client.Search.Find(q, limit: 3, cursor: next).Value();
            paged.AddRange(page.Items.Select(hit => hit.Id));
            next = page.Next;

            if (next is null)
            {
                break;
            }
        }

        Assert.Equal(7, whole.Length);
        Assert.Equal(whole, paged);
    }

    [Theory]
    [InlineData("'; drop table x; --")]
    [InlineData("tide & | ! <-> :* (")]
    [InlineData("%_\\ \"")]
    [InlineData("a\u0301 \uFFFF")]
    [InlineData("𝔗𝔦𝔡𝔢")]
    public async Task Anything_may_be_typed(string q)
    {
        var client = (await service.NewPublisher()).Client;
        await client.Notes.Create(new("A tide table")).Value();

        var answer = await client.Search.Find(q);

        Assert.True(answer.IsSuccessStatusCode || answer.StatusCode == System.Net.HttpStatusCode.BadRequest);
    }

    [Fact]
    public async Task A_question_without_words_or_of_an_unknown_kind_is_refused()
    {
        var client = (await service.NewPublisher()).Client;

        var blank = await client.Search.Find(" ?! ").Problem();
        var kind = await client.Search.Find("tide", "idea,letter").Problem();

        Assert.Equal(
            [("q", 400), ("kind", 400)], new[] { blank, kind }.Select(p => (p.Errors!.Single().Place, p.Status)));
    }

    private async Task<ReleasekitClient> GivenOneOfEach()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        await client.GivenARelease("Eelgrass at noon");
        await client.Projects.Propose(new("Eelgrass atlas")).Value();
        await client.Ideas.Create(new("Eelgrass by night")).Value();
        await client.Notes.Create(new("Where the Eelgrass grows")).Value();
        await client.Wants.Create(new("A book", Note: "about Eelgrass")).Value();
        await client.Tasks.Create(new("Count Eelgrass", "2026-03")).Value();
        await client.Appointments.Create(new("Walk", new LocalDate(2026, 3, 5), Place: "Eelgrass bed")).Value();
        return client;
    }
}
