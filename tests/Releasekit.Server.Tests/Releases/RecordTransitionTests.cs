using System.Net;
using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Releases;

/// <summary>
/// Transitions of stages through the API: what they change, what is refused, and that repeating is harmless.
/// </summary>
public class RecordTransitionTests(Service service)
{
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 2, 12, 0);

    [Fact]
    public async Task Completing_without_starting_leaves_the_start_unknown()
    {
        var client = await GivenARelease();

        var release = await client.Api.Record(client.Release, "outline", StageState.Completed, Noon);

        Assert.Equal(ReleaseState.InProgress, release.State);
        Assert.Null(release["outline"].StartedAt);
        Assert.Equal(Noon, release["outline"].CompletedAt);
        Assert.Equal(StageState.Ready, release["record"].State);
        Assert.Equal(StageState.Waiting, release["mix"].State);
    }

    [Fact]
    public async Task Asking_for_the_state_a_stage_has_appends_nothing()
    {
        var client = await GivenARelease();
        var once = await client.Api.Record(client.Release, "outline", StageState.Completed, Noon);

        var twice = await client.Api.Record(client.Release, "outline", StageState.Completed);

        Assert.Equal(once.Sequence, twice.Sequence);
        Assert.Equal(Noon, twice["outline"].CompletedAt);
    }

    [Fact]
    public async Task Completing_out_of_order_is_accepted_and_marked()
    {
        var client = await GivenARelease();

        var release = await client.Api.Record(client.Release, "mix", StageState.Completed, Noon);

        Assert.True(release["mix"].OutOfOrder);
        Assert.Equal(StageState.Ready, release["outline"].State);
    }

    [Fact]
    public async Task A_strict_predecessor_forbids_completing_before_it()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        await publisher.Client.StagePlans.Create(
            new("strict", [new("cut"), new("out", Publication: true, After: ["cut"], Strict: ["cut"])]));
        var release = await publisher.Client.Releases.Plan(new(Scenario.Series, "Strict", StagePlan: "strict")).Value();

        var problem = await publisher.Client.Releases.Record(release.Id, new("out", StageState.Completed)).Problem();

        Assert.Equal((409, "stage.predecessor_open"), (problem.Status, problem.Code));
    }

    [Fact]
    public async Task A_block_ends_where_it_began()
    {
        var client = await GivenARelease();
        await client.Api.Record(client.Release, "outline", StageState.Started, Noon);
        var blocked = await client.Api.Record(client.Release, "outline", StageState.Blocked, Noon, "guest ill");

        var unblocked = await client.Api.Record(
            client.Release, "outline", StageState.Ready, Noon + Duration.FromHours(1));

        Assert.Equal((StageState.Blocked, "guest ill"), (blocked["outline"].State, blocked["outline"].Note));
        Assert.Equal(StageState.Started, unblocked["outline"].State);
        Assert.Equal(Noon, unblocked["outline"].StartedAt);
    }

    [Theory]
    [InlineData("outline", StageState.Skipped, null, 422, "reason.needed")]
    [InlineData("outline", StageState.Blocked, " ", 422, "reason.needed")]
    [InlineData("publish", StageState.Skipped, "no", 409, "stage.publication_not_skippable")]
    [InlineData("mix", StageState.Ready, null, 409, "stage.waiting")]
    [InlineData("colour", StageState.Started, null, 422, "stage.unknown")]
    [InlineData("outline", StageState.Waiting, null, 422, "stage.waiting")]
    public async Task What_cannot_be_is_refused_with_its_reason(
        string stage, StageState to, string? note, int status, string code)
    {
        var client = await GivenARelease();

        var problem = await client.Api.Releases.Record(client.Release.Id, new(stage, to, Noon, note)).Problem();

        Assert.Equal((status, code), (problem.Status, problem.Code));
        Assert.Equal(client.Release.Sequence, (await client.Api.Releases.Get(client.Release.Id).Value()).Sequence);
    }

    [Fact]
    public async Task A_transition_is_neither_in_the_future_nor_before_the_release()
    {
        var client = await GivenARelease();

        var future = await client.Api.Releases.Record(
            client.Release.Id, new("outline", StageState.Completed, service.Clock.Now + Duration.FromMinutes(3)))
                .Problem();
        var before = await client.Api.Releases.Record(
            client.Release.Id, new("outline", StageState.Completed, Scenario.LongAgo - Duration.FromSeconds(1)))
                .Problem();
        var leeway = await client.Api.Record(
            client.Release, "outline", StageState.Completed, service.Clock.Now + Duration.FromSeconds(100));

        Assert.Equal((422, "occurred.future"), (future.Status, future.Code));
        Assert.Equal((422, "occurred.before_planned"), (before.Status, before.Code));
        Assert.Equal(StageState.Completed, leeway["outline"].State);
        Assert.Equal(StageState.Ready,
            (await client.Api.Record(client.Release, "outline", StageState.Ready, note: "wrong"))["outline"].State);
    }

    [Fact]
    public async Task Publishing_and_reopening_the_publication()
    {
        var client = await GivenARelease();
        foreach (var stage in new[] { "outline", "record", "mix" })
        {
            await client.Api.Record(client.Release, stage, StageState.Completed, Noon);
        }

        var finished = await client.Api.Releases.Get(client.Release.Id).Value();
        var published = await client.Api.Releases
            .Record(finished.Id, new("publish", StageState.Completed, Noon, Url: "https://mudflat.example/12")).Value();
        var noReason = await client.Api.Releases.Record(finished.Id, new("publish", StageState.Ready)).Problem();
        var withdrawn = await client.Api.Record(finished, "publish", StageState.Ready, note: "wrong file");

        Assert.Equal(ReleaseState.Finished, finished.State);
        Assert.Equal((ReleaseState.Published, Noon, "https://mudflat.example/12"),
            (published.State, published.PublishedAt, published.Url));
        Assert.Equal("reason.needed", noReason.Code);
        Assert.Equal((ReleaseState.Finished, null, null), (withdrawn.State, withdrawn.PublishedAt, withdrawn.Url));
    }

    [Fact]
    public async Task Reopening_another_stage_leaves_the_publication_and_follow_ups_close_it()
    {
        var client = await GivenARelease();
        await client.Api.Record(client.Release, "publish", StageState.Completed, Noon);
        await client.Api.Record(client.Release, "outline", StageState.Completed, Noon);

        var revised = await client.Api.Record(client.Release, "outline", StageState.Ready, note: "a name was wrong");
        await client.Api.Record(client.Release, "announce", StageState.Completed, Noon);
        var closed = await client.Api.Record(client.Release, "letter", StageState.Skipped, Noon, "next week");

        Assert.Equal((ReleaseState.Published, Noon), (revised.State, revised.PublishedAt));
        Assert.Equal(ReleaseState.Closed, closed.State);
        Assert.Equal(Noon + Duration.FromHours(12), closed["announce"].DueAt);
    }

    [Fact]
    public async Task Many_at_once_are_all_recorded_or_none()
    {
        var client = await GivenARelease();
        var other = await client.Api.GivenARelease("No. 13", new LocalDate(2026, 3, 12));

        var refused = await client.Api.Releases.RecordMany(new([
            new(client.Release.Id, "outline", StageState.Completed, Noon),
            new(other.Id, "outline", StageState.Skipped, Noon)])).Problem();
        var untouched = await client.Api.Releases.Get(client.Release.Id).Value();
        var recorded = await client.Api.Releases.RecordMany(new([
            new(client.Release.Id, "outline", StageState.Started, Noon),
            new(client.Release.Id, "outline", StageState.Completed, Noon + Duration.FromHours(1)),
            new(other.Id, "outline", StageState.Skipped, Noon, "not needed")])).Value();

        Assert.Equal((422, "/transitions/1/note"), (refused.Status, Assert.Single(refused.Errors!).Place));
        Assert.Equal(client.Release.Sequence, untouched.Sequence);
        Assert.Equal(
            [StageState.Completed, StageState.Skipped], recorded.Releases.Select(release => release["outline"].State));
    }

    [Fact]
    public async Task A_checklist_item_is_ticked_by_key_or_text()
    {
        var client = await GivenARelease();

        await client.Api.Releases.Tick(client.Release.Id, "record", "Tide times checked", new(true)).Value();
        var twice = await client.Api.Releases.Tick(client.Release.Id, "record", "tide-times-checked", new(true))
            .Value();
        var unknown = await client.Api.Releases.Tick(client.Release.Id, "record", "tripod", new(true)).Problem();

        Assert.Equal([true, false], twice["record"].Checklist.Select(item => item.Ticked));
        Assert.Equal(client.Release.Sequence + 1, twice.Sequence);
        Assert.Equal(404, unknown.Status);
    }

    [Fact]
    public async Task Of_200_racing_transitions_each_acknowledged_one_is_there_once_and_the_versions_have_no_gap()
    {
        var client = await GivenARelease();
        var stages = new[] { "outline", "record", "mix", "publish", "announce", "letter" };
        var first = client.Release.Sequence;

        // Every stage is started and completed by many at once; who starts it too late is refused.
        var answers = await Task.WhenAll(Enumerable.Range(0, 200).Select(i => UntilDecided(
            client.Api, client.Release.Id, new(
                stages[i % stages.Length],
                i / stages.Length % 2 == 0 ? StageState.Started : StageState.Completed, Noon, Note: $"no. {i}"))));

        var acknowledged = answers.Where(answer => answer.StatusCode is HttpStatusCode.OK)
            .Select(answer => answer.Content!).ToArray();
        var refused = answers.Where(answer => answer.StatusCode is not HttpStatusCode.OK)
            .Select(answer => answer.Problem().Code).ToArray();
        var history = (await client.Api.Releases.History(client.Release.Id, limit: 200).Value()).Items;
        var release = await client.Api.Releases.Get(client.Release.Id).Value();
        var told = history.Skip((int)first).ToArray();

        Assert.All(refused, code => Assert.Equal("stage.done", code));
        Assert.Equal(Enumerable.Range(1, history.Count).Select(i => (long)i), history.Select(e => e.Sequence));
        // Every version that was written was handed to somebody, and nobody was handed one that is not there.
        Assert.Equal(
            told.Select(e => e.Sequence),
            acknowledged.Select(answer => answer.Sequence).Where(version => version > first).Distinct().Order());
        Assert.Equal(told.Length, told.Select(e => e.Details["note"].GetString()).Distinct().Count());
        Assert.Equal(
            stages.Order(),
            told.Where(e => e.Event == "StageCompleted").Select(e => e.Details["stage"].GetString()!).Order());
        Assert.All(release.Stages, stage => Assert.Equal(StageState.Completed, stage.State));
        Assert.Equal(history.Count, release.Sequence);
    }

    /// <summary>As a caller does who is told that others were quicker: again.</summary>
    private static async Task<Refit.IApiResponse<Release>> UntilDecided(
        ReleasekitClient client, Guid release, Transition transition)
    {
        while (true)
        {
            var answer = await client.Releases.Record(release, transition);

            if (answer.IsSuccessStatusCode || answer.Problem().Code != "busy")
            {
                return answer;
            }
        }
    }

    private async Task<(ReleasekitClient Api, Release Release)> GivenARelease()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        return (publisher.Client, await publisher.Client.GivenARelease());
    }
}
