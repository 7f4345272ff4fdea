using System.Net;
using Releasekit.Client;

namespace Releasekit.Server.Tests.Http;

/// <summary>
/// Lists by cursor: every item once, Link and next agreeing (RFC 8288), filters that a cursor belongs to.
/// </summary>
public class ListTests(Service service)
{
    [Fact]
    public async Task A_walk_sees_every_item_once_while_others_are_added()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var planned = new List<Guid>();

        for (var i = 0; i < 7; i++)
        {
            planned.Add((await publisher.Client.Releases.Plan(new(Scenario.Series, $"No. {i}")).Value()).Id);
        }

        var seen = new List<Guid>();
        string? cursor = null;

        do
        {
            var page = await publisher.Client.Releases.List(limit: 3, cursor: cursor);
            seen.AddRange(page.Content!.Items.Select(release => release.Id));
            cursor = page.Content.Next;
            var link = page.Headers!.TryGetValues("Link", out var links) ? links.Single() : null;

            Assert.Equal(cursor is null ? null : $"</v1/releases?limit=3&cursor={cursor}>; rel=\"next\"", link);
            await publisher.Client.Releases.Plan(new(Scenario.Series, "added"));
        }
        while (cursor is not null && seen.Count < 50);

        Assert.Equal(planned, seen.Take(7));
        Assert.Equal(seen.Count, seen.Distinct().Count());
    }

    [Theory]
    [InlineData("limit=0")]
    [InlineData("limit=-1")]
    [InlineData("limit=abc")]
    [InlineData("limit=999999999999")]
    [InlineData("limit=1&limit=2")]
    [InlineData("serie=x")]
    [InlineData("state=done")]
    [InlineData("from=yesterday")]
    [InlineData("cursor=nonsense")]
    public async Task A_query_that_cannot_be_read_is_refused_by_name(string query)
    {
        var publisher = await service.NewPublisher();

        var answer = await publisher.Http.GetAsync(new Uri($"/v1/releases?{query}", UriKind.Relative));

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.Contains(query.Split('=')[0], await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_than_200_is_taken_as_200_and_a_cursor_goes_with_its_filters()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        await publisher.Client.Releases.Plan(new(Scenario.Series, "One"));
        await publisher.Client.Releases.Plan(new(Scenario.Series, "Two"));

        var all = await publisher.Client.Releases.List(limit: 5_000);
        var cursor = (await publisher.Client.Releases.List(limit: 1)).Content!.Next;
        var filtered = await publisher.Client.Releases.List(new(Text: "two"), cursor: cursor).Problem();
        var found = await publisher.Client.Releases.List(
            new(Text: "TWO", State: "planned", Series: Scenario.Series, Stage: "outline")).Value();

        Assert.Equal(2, all.Content!.Items.Count);
        Assert.Equal((400, "cursor-invalid"), (filtered.Status, filtered.Code));
        Assert.Equal("Two", Assert.Single(found.Items).Title);
    }
}
