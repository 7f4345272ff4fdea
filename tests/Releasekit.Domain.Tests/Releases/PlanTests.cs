using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class PlanTests
{
    [Fact]
    public void A_release_is_planned_as_an_extra() => Story.OfRelease
        .When(_ => Decide("No. 12", null, PlannedAt, PlannedAt))
        .Then(Planned);

    [Fact]
    public void A_release_is_planned_for_a_slot_and_holds_it_from_when_it_began_to_exist()
    {
        var story = Story.OfRelease
            .When(_ => Decide("No. 12", Slot, PlannedAt, Now))
            .Then(Planned with { RecordedAt = Now }, new SlotAssigned(Slot, PlannedAt, Now));

        Assert.Equal(Slot, story.State!.HeldSlot);
        Assert.Equal(ReleaseState.Planned, story.State.State);
        Assert.Equal(["outline"], story.State.OpenStages);
    }

    [Fact]
    public void A_clock_ahead_of_ours_by_two_minutes_is_read_as_now() => Story.OfRelease
        .When(_ => Decide("No. 12", null, PlannedAt + ReleaseDecider.ClockLeeway, PlannedAt))
        .Then(Planned);

    [Fact]
    public void A_release_cannot_begin_to_exist_in_the_future() => Story.OfRelease
        .When(_ => Decide("No. 12", null, Now + ReleaseDecider.ClockLeeway + Duration.Epsilon, Now))
        .ThenRefused("planned_at.future", "/plannedAt");

    [Theory]
    [InlineData(" ")]
    [InlineData("two\nlines")]
    [InlineData("two\u2028lines")]
    public void A_title_is_one_line(string title) => Story.OfRelease
        .When(_ => Decide(title, null, Now, Now))
        .ThenRefused("title.invalid", "/title");

    private static Decision<ReleaseEvent> Decide(string title, LocalDate? slot, Instant plannedAt, Instant now) =>
        ReleaseDecider.Plan(Id, "mudflat-weekly", title, Plan, slot, null, plannedAt, now);
}

public sealed class RetitleTests
{
    [Fact]
    public void A_release_gets_another_title() => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.Retitle(release, "No. 13", Now))
        .Then(new ReleaseRetitled("No. 13", Now, Now));

    [Fact]
    public void The_title_it_has_changes_nothing() => Story.OfRelease
        .Given(Planned, new ReleaseRetitled("No. 13", Now, Now))
        .When(release => ReleaseDecider.Retitle(release, "No. 13", Now))
        .ThenNothing();

    [Fact]
    public void A_title_is_needed() => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.Retitle(release, "", Now))
        .ThenRefused("title.invalid", "/title");
}

public sealed class SlotOfReleaseTests
{
    private static readonly SlotAssigned Assigned = new(Slot, Now, Now);
    private static readonly ReleaseDropped Dropped = new("guest ill", Now, Now);

    [Fact]
    public void A_release_gets_a_slot() => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.AssignSlot(release, Slot, Now))
        .Then(Assigned);

    [Fact]
    public void Another_slot_takes_the_place_of_the_one_it_had() => Story.OfRelease
        .Given(Planned, Assigned)
        .When(release => ReleaseDecider.AssignSlot(release, Slot.PlusWeeks(1), Now))
        .Then(Assigned with { Slot = Slot.PlusWeeks(1) });

    [Fact]
    public void The_slot_it_has_changes_nothing() => Story.OfRelease
        .Given(Planned, Assigned)
        .When(release => ReleaseDecider.AssignSlot(release, Slot, Now))
        .ThenNothing();

    [Fact]
    public void A_dropped_release_gets_none() => Story.OfRelease
        .Given(Planned, Dropped)
        .When(release => ReleaseDecider.AssignSlot(release, Slot, Now))
        .ThenRefused("release.dropped");

    [Fact]
    public void A_published_release_may_be_given_the_past_slot_it_was_for() => Story.OfRelease
        .Given(Published)
        .When(release => ReleaseDecider.AssignSlot(release, Slot.PlusWeeks(-9), Now))
        .Then(Assigned with { Slot = Slot.PlusWeeks(-9) });

    [Fact]
    public void A_release_is_taken_off_its_slot() => Story.OfRelease
        .Given(Planned, Assigned)
        .When(release => ReleaseDecider.UnassignSlot(release, "taken off", Now))
        .Then(new SlotUnassigned(Slot, "taken off", Now, Now));

    [Fact]
    public void Without_a_slot_there_is_nothing_to_be_taken_off() => Story.OfRelease
        .Given(Planned)
        .When(release => ReleaseDecider.UnassignSlot(release, "taken off", Now))
        .ThenNothing();

    [Fact]
    public void A_dropped_release_remembers_its_slot_and_does_not_hold_it()
    {
        var dropped = After(Planned, Assigned, Dropped);

        Assert.Equal((Slot, null), (dropped.Slot!.Value, dropped.HeldSlot));
        Assert.Empty(dropped.OpenStages);
    }
}
