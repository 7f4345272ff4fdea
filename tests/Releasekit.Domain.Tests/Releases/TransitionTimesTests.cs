using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class TransitionTimesTests
{
    [Fact]
    public void A_transition_may_be_two_minutes_ahead_of_our_clock_and_no_more()
    {
        var latest = Now + ReleaseDecider.ClockLeeway;

        Complete(latest).Then(new StageCompleted("outline", false, false, null, null, latest, Now));
        Complete(latest + Duration.Epsilon).ThenRefused("occurred.future", "/at");
    }

    [Fact]
    public void A_transition_is_not_older_than_its_release()
    {
        Complete(PlannedAt).Then(new StageCompleted("outline", false, false, null, null, PlannedAt, Now));
        Complete(PlannedAt - Duration.Epsilon).ThenRefused("occurred.before_planned", "/at");
    }

    [Fact]
    public void Transitions_of_a_stage_follow_each_other_and_may_share_an_instant()
    {
        Complete(At(3), Started("outline", 3))
            .Then(new StageCompleted("outline", false, false, null, null, At(3), Now));
        Complete(At(2), Started("outline", 3)).ThenRefused("occurred.before_previous", "/at");
    }

    [Fact]
    public void Stages_do_not_hold_each_other_to_an_order_in_time() => Story.OfRelease
        .Given(Planned, Completed("outline", 5))
        .When(release => StageDecider.Record(release, "recording", StageState.Completed, null, null, At(4), Now))
        .Then(new StageCompleted("recording", false, false, null, null, At(4), Now));

    [Fact]
    public void Now_is_not_before_a_transition_told_by_a_clock_ahead_of_ours()
    {
        var ahead = Now + ReleaseDecider.ClockLeeway;

        Complete(null, new StageStarted("outline", null, ahead, Now))
            .Then(new StageCompleted("outline", false, false, null, null, ahead, Now));
    }

    [Theory]
    [InlineData(2, 1, null)]
    [InlineData(2, 4, null)]
    [InlineData(2, 0, null)]
    [InlineData(2, 5, "occurred.out_of_line")]
    [InlineData(3, 0, "occurred.out_of_line")]
    [InlineData(3, 7, "occurred.out_of_line")]
    [InlineData(3, 6, null)]
    [InlineData(4, 3, "occurred.out_of_line")]
    [InlineData(4, 900, "occurred.future")]
    [InlineData(2, -1, "occurred.before_planned")]
    public void An_amended_transition_stays_between_its_neighbours(long sequence, int at, string? refused)
    {
        var release = After(Planned, Started("outline", 1), Blocked("outline", 4), Unblocked("outline", 6));

        Assert.Equal(refused, StageDecider.Amend(release, sequence, At(at), Now).Refusal?.Code);
    }

    [Fact]
    public void An_amendment_says_what_it_was_and_moves_the_publication()
    {
        var story = Story.OfRelease
            .Given(Published)
            .When(release => StageDecider.Amend(release, 6, At(4), Now))
            .Then(new TransitionAmended(6, "publish", At(5), At(4), Now, Now));

        Assert.Equal(At(4), story.State!.PublishedAt);
        story.When(release => StageDecider.Amend(release, 6, At(4), Now)).ThenNothing();
    }

    [Theory]
    [InlineData(1)]
    [InlineData(99)]
    public void Only_transitions_are_amended(long sequence) => Story.OfRelease
        .Given(Published)
        .When(release => StageDecider.Amend(release, sequence, At(4), Now))
        .ThenRefused("transition.unknown");

    private static Story<Release, ReleaseEvent> Complete(Instant? at, params ReleaseEvent[] before) => Story.OfRelease
        .Given([Planned, .. before])
        .When(release => StageDecider.Record(release, "outline", StageState.Completed, null, null, at, Now));
}

public sealed class ChecklistTests
{
    private static readonly ChecklistItemTicked Ticked = new("final-mix", "noise-cut", Now, Now);

    [Theory]
    [InlineData("noise-cut")]
    [InlineData("Noise cut")]
    public void An_item_is_ticked_by_its_key_or_its_text(string item) => Story.OfRelease
        .Given(Planned)
        .When(release => StageDecider.Tick(release, "final-mix", item, ticked: true, Now))
        .Then(Ticked);

    [Fact]
    public void A_tick_is_taken_back() => Story.OfRelease
        .Given(Planned, Ticked)
        .When(release => StageDecider.Tick(release, "final-mix", "noise-cut", ticked: false, Now))
        .Then(new ChecklistItemUnticked("final-mix", "noise-cut", Now, Now));

    [Fact]
    public void Ticking_twice_changes_nothing_even_when_dropped() => Story.OfRelease
        .Given(Planned, Ticked, new ReleaseDropped("guest ill", Now, Now))
        .When(release => StageDecider.Tick(release, "final-mix", "noise-cut", ticked: true, Now))
        .ThenNothing();

    [Theory]
    [InlineData("colour", "noise-cut", "stage.unknown", "/stage")]
    [InlineData("final-mix", "polish", "item.unknown", null)]
    [InlineData("final-mix", "levels-even", "release.dropped", null)]
    public void What_is_not_there_cannot_be_ticked(string stage, string item, string refused, string? member) =>
        Story.OfRelease
            .Given(Planned, new ReleaseDropped("guest ill", Now, Now))
            .When(release => StageDecider.Tick(release, stage, item, ticked: true, Now))
            .ThenRefused(refused, member);

    [Fact]
    public void Texts_that_give_the_same_key_are_numbered() => Assert.Equal(
        [new("item", "Ήχος"), new("item-2", "Τέλος"), new("links", "Links!"), new("links-2", "Links?")],
        ChecklistItem.ListOf(["Ήχος", "Τέλος", "Links!", "Links?"]));
}
