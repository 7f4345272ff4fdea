using System.Net;
using Releasekit.Client;
using Releasekit.Client.Releases;
using Releasekit.Server.Tests.Calendar;

namespace Releasekit.Server.Tests.Feeds;

/// <summary>
/// The calendar feed, read by a parser that is not ours (python3-icalendar) and compared with what the API says.
/// </summary>
public sealed class FeedTests(Service shared) : IAsyncLifetime
{
    private Service _service = null!;
    private ReleasekitClient _client = null!;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 2, 20, 12, 0));
        _client = (await _service.NewPublisher()).Client;
        await _client.GivenASeries();
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task Slots_releases_and_open_stages_stand_where_the_API_says()
    {
        var release = await _client.GivenARelease("Sal e maré: “eco”, parte 1; \\ fim");
        await _client.Record(release, "outline", StageState.Completed);

        var feed = ParsedCalendar.Read(await Bytes(await _client.Feeds.Create(new("phone")).Value()));
        var slots = (
            await _client.Series.Slots(Scenario.Series, new(2026, 2, 1), new(2027, 3, 1), limit: 200)).Content!.Items;
        var shown = await _client.Releases.Get(release.Id).Value();

        var own = feed.Events.Single(entry => entry.Uid == $"{release.Id}@release.releasekit");
        Assert.Equal(shown.Title, own.Text("SUMMARY"));
        Assert.Equal(shown.Slot!.At, own.At("DTSTART"));
        Assert.Equal(
            slots.Where(slot => slot.Release is null && slot.At >= Instant.FromUtc(2026, 2, 1, 0, 0))
                .Select(slot => slot.At).Take(50),
            feed.Events.Where(entry => entry.Uid.EndsWith("@slot.releasekit", StringComparison.Ordinal))
                .Select(entry => entry.At("DTSTART")!.Value)
                .Where(at => at >= Instant.FromUtc(2026, 2, 1, 0, 0)).Take(50));
        Assert.Equal(
            shown.Stages.Where(stage => stage.State is not StageState.Completed && !stage.Publication)
                .Select(stage => (stage.Key, stage.DueAt!.Value)).Order(),
            feed.Events.Where(entry => entry.Uid.EndsWith($"{release.Id}@stage.releasekit", StringComparison.Ordinal))
                .Select(entry => (entry.Uid.Split('.')[0], entry.At("DTEND")!.Value)).Order());
    }

    [Theory]
    [InlineData("event", 5, 0)]
    [InlineData("todo", 0, 5)]
    [InlineData("none", 0, 0)]
    public async Task Stages_stand_in_it_as_the_feed_was_made(string stages, int events, int todos)
    {
        await _client.GivenARelease();

        var feed = ParsedCalendar.Read(await Bytes(await _client.Feeds.Create(new("phone", Stages: stages)).Value()));

        Assert.Equal(
            events, feed.Events.Count(entry => entry.Uid.EndsWith("@stage.releasekit", StringComparison.Ordinal)));
        Assert.Equal(todos, feed.Todos.Count);
    }

    [Fact]
    public async Task A_busy_feed_tells_no_titles()
    {
        await _client.GivenARelease("A title that is nobody's business");

        var text = System.Text.Encoding.UTF8.GetString(
            await Bytes(await _client.Feeds.Create(new("shared", Privacy: "busy")).Value()));

        Assert.DoesNotContain("business", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Mudflat", text, StringComparison.Ordinal);
        Assert.Contains("SUMMARY:Busy", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_same_state_gives_the_same_bytes_and_a_change_raises_the_sequence()
    {
        var release = await _client.GivenARelease();
        var feed = await _client.Feeds.Create(new("phone")).Value();
        var first = await Get(feed.Url);

        _service.Clock.StandAt(Instant.FromUtc(2026, 2, 21, 12, 0));
        var unchanged = await Get(feed.Url, ifNoneMatch: first.Headers.ETag!.ToString());
        var since = await Get(feed.Url, since: first.Content.Headers.LastModified);
        await _client.Record(release, "outline", StageState.Completed);
        var changed = await Get(feed.Url, ifNoneMatch: first.Headers.ETag.ToString());

        var (before, after) = (
            Own(await first.Content.ReadAsByteArrayAsync()), Own(await changed.Content.ReadAsByteArrayAsync()));
        Assert.Equal(
            (HttpStatusCode.NotModified, HttpStatusCode.NotModified), (unchanged.StatusCode, since.StatusCode));
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
        Assert.True(after.Number("SEQUENCE") > before.Number("SEQUENCE"));
        Assert.True(after.At("LAST-MODIFIED") > before.At("LAST-MODIFIED"));

        ParsedComponent Own(byte[] text) =>
            ParsedCalendar.Read(text).Events.Single(entry => entry.Uid == $"{release.Id}@release.releasekit");
    }

    [Fact]
    public async Task A_wrong_a_short_and_a_revoked_address_answer_alike()
    {
        var feed = await _client.Feeds.Create(new("phone")).Value();
        await _client.Feeds.Revoke(feed.Id);

        var answers = new List<string>();

        foreach (var address in new[] { feed.Url, new Uri($"{_service.Address}/feeds/{new string('x', 43)}.ics"),
            new Uri($"{_service.Address}/feeds/x.ics") })
        {
            var answer = await Get(address);
            answers.Add($"{answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
        }

        Assert.StartsWith("NotFound", Assert.Single(answers.Distinct()), StringComparison.Ordinal);
    }

    private async Task<byte[]> Bytes(Client.Feeds.NewFeed feed) =>
        await (await Get(feed.Url)).Content.ReadAsByteArrayAsync();

    private async Task<HttpResponseMessage> Get(Uri address, string? ifNoneMatch = null, DateTimeOffset? since = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, address);

        if (ifNoneMatch is not null)
        {
            request.Headers.TryAddWithoutValidation("If-None-Match", ifNoneMatch);
        }

        request.Headers.IfModifiedSince = since;
        return await _service.ClientWith(null).SendAsync(request);
    }
}
