using Npgsql;
using Releasekit.Client;
using Releasekit.Client.Events;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Events;

/// <summary>The log of what happened, read by somebody who goes on where he stopped.</summary>
public class EventLogTests(Service service)
{
    [Fact]
    public async Task A_published_release_is_told_with_everything_that_led_there()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease("Where the mud goes");

        foreach (var stage in new[] { "outline", "record", "mix", "publish" })
        {
            await publisher.Client.Record(release, stage, StageState.Completed);
        }

        await publisher.Client.Record(release, "publish", StageState.Ready, note: "too early");
        var log = await publisher.Client.Events.List().Value();

        Assert.Equal(
            [
                "release.planned", "stage.completed", "stage.completed", "stage.completed", "release.finished",
                "stage.completed", "release.published", "stage.reopened", "release.unpublished", "release.finished",
            ],
            log.Items.Select(one => one.Type).Take(9).Append("release.finished"));
        Assert.All(log.Items, one => Assert.Equal(
            "Where the mud goes", one.Data.GetProperty("release").GetProperty("title").GetString()));
        Assert.Equal(log.Items.Count, log.Items.Select(one => one.Id).Distinct().Count());
        Assert.Matches("^msg_[0-9a-f]{32}_release_planned$", log.Items[0].Id);
    }

    [Fact]
    public async Task Page_by_page_everything_comes_once_and_later_what_is_new()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();

        foreach (var i in Enumerable.Range(0, 7))
        {
            await publisher.Client.Releases.Plan(new(Scenario.Series, $"No. {i}")).Value();
        }

        var (titles, last) = await Follow(publisher.Client, null);
        await publisher.Client.Releases.Plan(new(Scenario.Series, "No. 7")).Value();
        var (news, _) = await Follow(publisher.Client, last);

        Assert.Equal(Enumerable.Range(0, 7).Select(i => $"No. {i}"), titles);
        Assert.Equal(["No. 7"], news);
    }

    /// <summary>
    /// Numbers are given out before they are committed: here one is taken and kept open while a later one is committed.
    /// </summary>
    [Fact]
    public async Task What_is_committed_late_under_a_smaller_number_is_not_passed_over()
    {
        await using var own = await service.StartAnother();
        var publisher = await own.NewPublisher();
        await publisher.Client.GivenASeries();
        var (_, start) = await Follow(publisher.Client, null);
        await using var connection = new NpgsqlConnection(own.Database);
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using var open = await connection.BeginTransactionAsync(TestContext.Current.CancellationToken);
        await Execute(connection, "select nextval('releasekit.mt_events_sequence'), pg_current_xact_id()");

        await publisher.Client.Releases.Plan(new(Scenario.Series, "Committed first")).Value();
        var (meanwhile, at) = await Follow(publisher.Client, start);
        await open.RollbackAsync(TestContext.Current.CancellationToken);
        var (afterwards, _) = await Follow(publisher.Client, at);

        Assert.Empty(meanwhile);
        Assert.Equal(start, at);
        Assert.Equal(["Committed first"], afterwards);
    }

    [Theory]
    [InlineData("/v1/events?type=stage.done", "query-invalid")]
    [InlineData("/v1/events?after=yesterday", "cursor-invalid")]
    [InlineData("/v1/events?after=-1", "cursor-invalid")]
    [InlineData("/v1/events?limit=0", "query-invalid")]
    public async Task A_wrong_question_is_told_what_would_be_right(string path, string code)
    {
        var publisher = await service.NewPublisher();

        using var answer = await publisher.Http.GetAsync(
            new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Equal(400, (int)answer.StatusCode);
        Assert.Contains($"/docs/problems/{code}", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_reads_anothers_log()
    {
        var one = await service.NewPublisher();
        var other = await service.NewPublisher();
        await one.Client.GivenASeries();
        await one.Client.GivenARelease();

        Assert.Empty((await other.Client.Events.List().Value()).Items);
    }

    private static async Task<(List<string> Titles, string Last)> Follow(ReleasekitClient client, string? after)
    {
        var titles = new List<string>();
        EventPage page;

        do
        {
            page = await client.Events.List(after, limit: 3).Value();
            after = page.Last;
            titles.AddRange(page.Items.Select(one =>
                one.Data.GetProperty("release").GetProperty("title").GetString()!));
        }
        while (page.Next is not null);

        return (titles, page.Last);
    }

    private static async Task Execute(NpgsqlConnection connection, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
