using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Releases;

/// <summary>The state at a past moment, in both meanings, and the history that nothing rewrites.</summary>
public class PastTests(Service service)
{
    private static readonly Instant Monday = Instant.FromUtc(2026, 3, 2, 18, 0);

    [Fact]
    public async Task What_was_known_then_and_what_was_so_then_differ_by_what_was_told_later()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        var told = await publisher.Client.Record(release, "outline", StageState.Completed, Monday);
        var recordedAt = (await publisher.Client.Releases.History(release.Id).Value()).Items[^1].RecordedAt;

        var before = await publisher.Client.Releases.Get(release.Id, Monday - Duration.FromHours(1)).Value();
        var so = await publisher.Client.Releases.Get(release.Id, Monday).Value();
        var unknown = await publisher.Client.Releases.Get(release.Id, Monday, "then").Problem();
        var known = await publisher.Client.Releases.Get(release.Id, recordedAt, "then").Value();

        Assert.Equal(StageState.Ready, before["outline"].State);
        Assert.Equal(StageState.Completed, so["outline"].State);
        Assert.Equal(404, unknown.Status);
        Assert.Equal(told.Sequence, known.Sequence);
    }

    [Fact]
    public async Task An_amended_time_counts_now_and_the_history_keeps_both()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        var told = await publisher.Client.Record(release, "outline", StageState.Completed, Monday);
        var earlier = Monday - Duration.FromHours(5);

        var amended = await publisher.Client.Releases.Amend(release.Id, told.Sequence, new(earlier)).Value();
        var again = await publisher.Client.Releases.Amend(release.Id, told.Sequence, new(earlier)).Value();
        var so = await publisher.Client.Releases.Get(release.Id, earlier).Value();
        var history = await publisher.Client.Releases.History(release.Id).Value();
        var unknown = await publisher.Client.Releases.Amend(release.Id, 1, new(earlier)).Problem();

        Assert.Equal(earlier, amended["outline"].CompletedAt);
        Assert.Equal(amended.Sequence, again.Sequence);
        Assert.Equal(StageState.Completed, so["outline"].State);
        Assert.Equal(["ReleasePlanned", "SlotAssigned", "StageCompleted", "TransitionAmended"],
            history.Items.Select(e => e.Event));
        Assert.Equal(Monday, history.Items[2].OccurredAt);
        Assert.Equal(404, unknown.Status);
    }

    [Fact]
    public async Task A_release_adopts_another_version_of_its_plan_and_keeps_what_was_done()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        await publisher.Client.Record(release, "outline", StageState.Completed, Monday);
        var plan = await publisher.Client.StagePlans.Get("audio");
        await publisher.Client.StagePlans
            .Replace("audio", new([.. Scenario.Stages, new("shop", "Shop page", After: ["publish"])]), plan.ETag())
                .Value();

        var kept = await publisher.Client.Releases.Get(release.Id);
        var adopted = await publisher.Client.Releases
            .Change(release.Id, new() { ["planVersion"] = 2 }, kept.ETag()).Value();

        Assert.Equal(1, kept.Content!.PlanVersion);
        Assert.Equal(2, adopted.PlanVersion);
        Assert.Equal(StageState.Completed, adopted["outline"].State);
        Assert.Equal(StageState.Waiting, adopted["shop"].State);
    }

    [Fact]
    public async Task Dropping_frees_the_slot_and_restoring_takes_it_back_only_when_it_is_free()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var first = await publisher.Client.GivenARelease();
        var noReason = await publisher.Client.Releases.Drop(first.Id, new(null)).Problem();
        var dropped = await publisher.Client.Releases.Drop(first.Id, new("it was a log")).Value();
        var refused = await publisher.Client.Releases.Record(first.Id, new("outline", StageState.Started)).Problem();
        var backAgain = await publisher.Client.Releases.Restore(first.Id).Value();
        await publisher.Client.Releases.Drop(first.Id, new("once more")).Value();

        var second = await publisher.Client.GivenARelease("No. 13");
        var restored = await publisher.Client.Releases.Restore(first.Id).Value();

        Assert.Equal("reason.needed", noReason.Code);
        Assert.Equal((ReleaseState.Dropped, null), (dropped.State, dropped.Slot));
        Assert.Equal((409, "release.dropped"), (refused.Status, refused.Code));
        Assert.Equal(first.Slot, backAgain.Slot);
        Assert.NotNull(second.Slot);
        Assert.Equal((ReleaseState.Planned, null), (restored.State, restored.Slot));
    }
}
