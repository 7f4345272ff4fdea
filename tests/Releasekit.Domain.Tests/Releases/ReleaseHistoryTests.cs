using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class ReleaseHistoryTests
{
    private static readonly StageCompleted BackDated =
        new("outline", false, false, null, null, OccurredAt: At(2), RecordedAt: At(10));

    private static readonly TransitionAmended Amended = new(2, "outline", At(2), At(1), At(20), At(20));

    [Fact]
    public void A_back_dated_transition_was_not_known_until_it_was_told()
    {
        var history = Recorded(Planned, BackDated);

        Assert.Equal(StageState.Ready, Outline(ReleaseHistory.AsKnownThen(history, At(9))));
        Assert.Equal(StageState.Completed, Outline(ReleaseHistory.AsKnownThen(history, At(10))));
        Assert.Equal(StageState.Ready, Outline(ReleaseHistory.AsKnownNow(history, At(2) - Duration.Epsilon)));
        Assert.Equal(StageState.Completed, Outline(ReleaseHistory.AsKnownNow(history, At(2))));
    }

    [Fact]
    public void An_amendment_changes_what_was_so_and_not_what_was_known()
    {
        var history = Recorded(Planned, BackDated, Amended);

        Assert.Equal(StageState.Completed, Outline(ReleaseHistory.AsKnownNow(history, At(1))));
        Assert.Equal(At(2), ReleaseHistory.AsKnownThen(history, At(19))!.FindStage("outline")!.CompletedAt);
        Assert.Equal(At(1), ReleaseHistory.AsKnownThen(history, At(20))!.FindStage("outline")!.CompletedAt);
    }

    [Fact]
    public void Of_several_amendments_the_last_holds()
    {
        var history = Recorded(Planned, BackDated, Amended, Amended with { Was = At(1), Becomes = At(3) });

        Assert.Equal(StageState.Ready, Outline(ReleaseHistory.AsKnownNow(history, At(2))));
        Assert.Equal(StageState.Completed, Outline(ReleaseHistory.AsKnownNow(history, At(3))));
    }

    [Fact]
    public void A_reopened_stage_was_completed_in_between()
    {
        var history = Recorded(Planned, Completed("outline", 2), Reopened("outline", 4));

        Assert.Equal(StageState.Completed, Outline(ReleaseHistory.AsKnownNow(history, At(3))));
        Assert.Equal(StageState.Ready, Outline(ReleaseHistory.AsKnownNow(history, At(4))));
    }

    [Fact]
    public void Before_it_was_planned_there_was_no_release()
    {
        var history = Recorded(Planned with { RecordedAt = At(5) });

        Assert.Null(ReleaseHistory.AsKnownNow(history, PlannedAt - Duration.Epsilon));
        Assert.NotNull(ReleaseHistory.AsKnownNow(history, PlannedAt));
        Assert.Null(ReleaseHistory.AsKnownThen(history, At(4)));
        Assert.Null(ReleaseHistory.AsKnownNow([], Now));
        Assert.Null(ReleaseHistory.Now([]));
    }

    [Fact]
    public void A_stage_that_a_later_plan_brought_was_not_done_before_and_is_not_forgotten()
    {
        StagePlanAdopted adopted = new("audio", 2, [.. Plan.Stages, Stage("site-page", "outline")], At(6), At(6));
        var history = Recorded(Planned, adopted, Completed("site-page", 3) with { RecordedAt = At(7) });

        Assert.Null(ReleaseHistory.AsKnownNow(history, At(5))!.FindStage("site-page"));
        Assert.Equal(At(3), ReleaseHistory.AsKnownNow(history, At(6))!.FindStage("site-page")!.CompletedAt);
    }

    [Fact]
    public void A_clock_that_went_back_leaves_a_readable_past()
    {
        var history = Recorded(Planned, new ReleaseRetitled("No. 13", At(-1), At(-1)));

        Assert.Null(ReleaseHistory.AsKnownThen(history, At(-1)));
        Assert.Null(ReleaseHistory.AsKnownNow(history, At(-1)));
        Assert.Equal("No. 13", ReleaseHistory.AsKnownNow(history, PlannedAt)!.Title);
    }

    private static Recorded[] Recorded(params ReleaseEvent[] events) =>
        [.. events.Select((e, i) => new Recorded(i + 1, e))];

    private static StageState Outline(Release? release) => release!.StateOf(release.FindStage("outline")!);
}
