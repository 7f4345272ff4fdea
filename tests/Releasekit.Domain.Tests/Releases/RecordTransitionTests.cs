using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class RecordTransitionTests
{
    [Fact]
    public void Completing_without_starting_leaves_the_start_unknown()
    {
        var outline = After(Planned, Completed("outline", 2)).FindStage("outline")!;

        Assert.Equal((null, At(2)), (outline.StartedAt, outline.CompletedAt!.Value));
    }

    [Fact]
    public void A_strict_predecessor_forbids_completing_and_not_starting()
    {
        var story = Story.OfRelease.Given(Planned, Completed("outline"));

        story.When(release => Record(release, "final-mix", StageState.Completed)).ThenRefused("stage.predecessor_open");
        story.When(release => Record(release, "final-mix", StageState.Started))
            .Then(new StageStarted("final-mix", null, Now, Now));
    }

    [Fact]
    public void A_skipped_strict_predecessor_is_none_left() => Story.OfRelease
        .Given(Planned, Skipped("recording"))
        .When(release => Record(release, "final-mix", StageState.Completed))
        .Then(new StageCompleted("final-mix", false, OutOfOrder: false, null, null, Now, Now));

    [Fact]
    public void The_publication_cannot_be_skipped() => Story.OfRelease
        .Given(Made)
        .When(release => Record(release, "publish", StageState.Skipped, "no"))
        .ThenRefused("stage.publication_not_skippable");

    [Fact]
    public void Completing_the_publication_out_of_order_publishes_and_is_marked()
    {
        var story = Story.OfRelease
            .Given(Planned)
            .When(release => StageDecider.Record(
                release, "publish", StageState.Completed, null, "https://example.org/12", At(3), Now))
            .Then(new StageCompleted("publish", true, OutOfOrder: true, null, "https://example.org/12", At(3), Now));

        Assert.Equal((At(3), "https://example.org/12"), (story.State!.PublishedAt!.Value, story.State.Url));
    }

    [Fact]
    public void Reopening_the_publication_withdraws_it_with_its_address()
    {
        var story = Story.OfRelease
            .Given([.. Made, Completed("publish", 5) with { Url = "https://example.org/12" }])
            .When(release => Record(release, "publish", StageState.Ready, "wrong tick"))
            .Then(new StageReopened("publish", Publication: true, "wrong tick", Now, Now));

        Assert.Equal(
            (null, null, ReleaseState.Finished), (story.State!.PublishedAt, story.State.Url, story.State.State));
    }

    [Fact]
    public void Reopening_another_stage_after_publication_leaves_the_publication_as_it_was()
    {
        var story = Story.OfRelease
            .Given(Published)
            .When(release => Record(release, "final-mix", StageState.Ready, "a click at 12:40"))
            .Then(new StageReopened("final-mix", Publication: false, "a click at 12:40", Now, Now));

        Assert.Equal((At(5), ReleaseState.Published), (story.State!.PublishedAt!.Value, story.State.State));
        Assert.Contains("final-mix", story.State.OpenStages);
    }

    [Fact]
    public void A_second_block_ends_in_the_state_before_it()
    {
        var story = Story.OfRelease.Given(
            Planned, Blocked("outline", 1), Unblocked("outline", 2), Started("outline", 3), Blocked("outline", 4));

        story.When(release => Record(release, "outline", StageState.Ready))
            .Then(new StageUnblocked("outline", null, Now, Now));
        Assert.Equal(StageState.Started, story.State!.StateOf(story.State.FindStage("outline")!));
        Assert.Equal(At(3), story.State.FindStage("outline")!.StartedAt);
    }

    [Fact]
    public void A_note_is_kept_where_the_end_of_a_block_starts_the_stage_again() => Story.OfRelease
        .Given(Planned, Started("outline", 1), Blocked("outline", 2))
        .When(release => Record(release, "outline", StageState.Started, "dry again"))
        .Then(new StageUnblocked("outline", "dry again", Now, Now));

    [Theory]
    [InlineData(StageState.Skipped)]
    [InlineData(StageState.Blocked)]
    public void Skipping_and_blocking_say_why(StageState to) => Story.OfRelease
        .Given(Planned)
        .When(release => Record(release, "outline", to, " "))
        .ThenRefused("reason.needed", "/note");

    [Fact]
    public void Reopening_says_why() => Story.OfRelease
        .Given(Planned, Completed("outline"))
        .When(release => Record(release, "outline", StageState.Ready))
        .ThenRefused("reason.needed", "/note");

    [Fact]
    public void A_note_has_no_control_characters() => Story.OfRelease
        .Given(Planned)
        .When(release => Record(release, "outline", StageState.Started, "a\u0007"))
        .ThenRefused("note.invalid", "/note");

    [Theory]
    [InlineData("publish", StageState.Completed, "example.org/12")]
    [InlineData("publish", StageState.Completed, "ftp://example.org/12")]
    [InlineData("publish", StageState.Completed, "https://example.org/\n12")]
    [InlineData("publish", StageState.Started, "https://example.org/12")]
    [InlineData("final-mix", StageState.Completed, "https://example.org/12")]
    public void An_address_is_a_web_address_and_goes_with_the_publication(string stage, StageState to, string url) =>
        Story.OfRelease
            .Given(Planned)
            .When(release => StageDecider.Record(release, stage, to, null, url, null, Now))
            .ThenRefused("url.invalid", "/url");

    [Fact]
    public void A_stage_outside_the_plan_is_refused() => Story.OfRelease
        .Given(Planned)
        .When(release => Record(release, "colour", StageState.Completed))
        .ThenRefused("stage.unknown", "/stage");

    [Fact]
    public void A_dropped_release_answers_what_is_so_already_and_refuses_the_rest()
    {
        var story = Story.OfRelease.Given(Planned, Completed("outline"), new ReleaseDropped("guest ill", Now, Now));

        story.When(release => Record(release, "outline", StageState.Completed)).ThenNothing();
        story.When(release => Record(release, "recording", StageState.Started)).ThenRefused("release.dropped");
    }

    private static Decision<ReleaseEvent> Record(Release release, string stage, StageState to, string? note = null) =>
        StageDecider.Record(release, stage, to, note, url: null, happenedAt: null, Now);
}
