using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class DropTests
{
    private static readonly ReleaseDropped Dropped = new("guest ill", Now, Now);

    [Fact]
    public void A_release_is_dropped_for_a_reason() => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.Drop(release, "guest ill", Now))
        .Then(Dropped);

    [Fact]
    public void A_release_in_the_bank_can_be_dropped() => Story.OfRelease
        .Given(Made)
        .When(release => ReleaseDecider.Drop(release, "guest ill", Now))
        .Then(Dropped);

    [Theory]
    [InlineData(null)]
    [InlineData(" ")]
    [InlineData("two\nlines")]
    public void The_reason_is_one_line(string? reason) => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.Drop(release, reason, Now))
        .ThenRefused("reason.needed", "/reason");

    [Fact]
    public void Dropping_twice_changes_nothing_even_without_a_reason() => Story.OfRelease
        .Given(Planned, Dropped)
        .When(release => ReleaseDecider.Drop(release, null, Now))
        .ThenNothing();

    [Fact]
    public void A_published_release_cannot_be_dropped() => Story.OfRelease
        .Given(Published)
        .When(release => ReleaseDecider.Drop(release, "guest ill", Now))
        .ThenRefused("release.published");

    [Fact]
    public void After_the_wrong_tick_is_corrected_it_can() => Story.OfRelease
        .Given([.. Published, Reopened("publish", 6)])
        .When(release => ReleaseDecider.Drop(release, "guest ill", Now))
        .Then(Dropped);
}

public sealed class RestoreTests
{
    private static readonly ReleaseDropped Dropped = new("guest ill", Now, Now);
    private static readonly ReleaseRestored Restored = new(Now, Now);
    private static readonly SlotAssigned Assigned = new(Slot, Now, Now);

    [Fact]
    public void A_restored_release_gets_its_slot_back_and_stands_where_it_stood()
    {
        var story = Story.OfRelease
            .Given([.. Made, Assigned, Dropped])
            .When(release => ReleaseDecider.Restore(release, slotIsTaken: false, Now))
            .Then(Restored);

        Assert.Equal((Slot, ReleaseState.Finished), (story.State!.HeldSlot!.Value, story.State.State));
    }

    [Fact]
    public void A_slot_taken_meanwhile_leaves_it_without_one()
    {
        var story = Story.OfRelease
            .Given(Planned, Assigned, Dropped)
            .When(release => ReleaseDecider.Restore(release, slotIsTaken: true, Now))
            .Then(Restored, new SlotUnassigned(Slot, "taken by another release meanwhile", Now, Now));

        Assert.Null(story.State!.Slot);
    }

    [Fact]
    public void A_release_that_had_no_slot_loses_none() => Story.OfRelease
        .Given(Planned, Dropped)
        .When(release => ReleaseDecider.Restore(release, slotIsTaken: true, Now))
        .Then(Restored);

    [Fact]
    public void A_release_that_was_not_dropped_stays_as_it_is() => Story.OfRelease
        .Given(Planned, Assigned)
        .When(release => ReleaseDecider.Restore(release, slotIsTaken: true, Now))
        .ThenNothing();
}

public sealed class AdoptPlanTests
{
    private static readonly StagePlan Next = Plan with
    {
        Version = 2,
        Stages = [.. Plan.Stages.Where(stage => stage.Key != "show-notes"), Stage("site-page", after: "publish")],
    };

    private static readonly StagePlan ByMix = new(
        "audio", "Audio", 3, [Stage("outline"), Stage("final-mix", publication: true)]);

    [Fact]
    public void Stages_of_the_same_key_keep_what_was_done()
    {
        var story = Story.OfRelease
            .Given(Planned, Completed("outline"), new ChecklistItemTicked("final-mix", "noise-cut", Now, Now))
            .When(release => ReleaseDecider.AdoptPlan(release, Next, Now))
            .Then(new StagePlanAdopted("audio", 2, Next.Stages, Now, Now));

        Assert.True(story.State!.FindStage("outline")!.IsDone);
        Assert.Equal(["noise-cut"], story.State.FindStage("final-mix")!.Ticked);
        Assert.Null(story.State.FindStage("show-notes"));
        Assert.Equal(2, story.State.PlanVersion);
    }

    [Fact]
    public void The_version_it_has_changes_nothing() => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.AdoptPlan(release, Plan, Now))
        .ThenNothing();

    [Fact]
    public void A_dropped_release_adopts_none() => Story.OfRelease
        .Given(Planned, new ReleaseDropped("guest ill", Now, Now))
        .When(release => ReleaseDecider.AdoptPlan(release, Next, Now))
        .ThenRefused("release.dropped");

    [Fact]
    public void A_published_release_keeps_its_publication_stage() => Story.OfRelease
        .Given(Published)
        .When(release => ReleaseDecider.AdoptPlan(release, ByMix, Now))
        .ThenRefused("stage_plan.other_publication");

    [Fact]
    public void Adopting_a_plan_publishes_nothing() => Story.OfRelease
        .Given(Planned, Completed("outline"), Completed("recording"), Completed("final-mix"))
        .When(release => ReleaseDecider.AdoptPlan(release, ByMix, Now))
        .ThenRefused("stage_plan.other_publication");

    [Fact]
    public void Adopting_a_plan_closes_nothing_that_was_skipped() => Story.OfRelease
        .Given(Planned, Skipped("final-mix"))
        .When(release => ReleaseDecider.AdoptPlan(release, ByMix, Now))
        .ThenRefused("stage_plan.other_publication");

    [Fact]
    public void While_the_new_publication_is_open_it_is_adopted() => Story.OfRelease
        .Given(Planned, Completed("outline"), Started("final-mix"))
        .When(release => ReleaseDecider.AdoptPlan(release, ByMix, Now))
        .Then(new StagePlanAdopted("audio", 3, ByMix.Stages, Now, Now));
}
