using Releasekit.Domain.Schedule;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class BreakTests
{
    [Fact]
    public void A_break_is_planned_both_ends_included()
    {
        var story = Given()
            .When(series => SeriesDecider.PlanBreak(series, Pause, Twelfth, March(19), "low water", Before))
            .Then(Break(Twelfth, March(19), Before));

        Assert.Equal("5@7 (12@7) (19@7) 26@7", InMarch(story.State!));
        Assert.Equal(new SlotExcuse(GivenUp: false, "low water"), Slot(story.State!).Excuse);
    }

    [Theory]
    [InlineData(12, 11, null, "/to")]
    [InlineData(12, 12, "bell\u0007", "/reason")]
    public void A_break_ends_after_it_begins_and_says_why_in_plain_text(
        int from, int to, string? reason, string member) =>
        Given()
            .When(series => SeriesDecider.PlanBreak(series, Pause, March(from), March(to), reason, Before))
            .ThenRefused("break.invalid", member);

    [Fact]
    public void A_break_lasts_three_years_at_most() => Given()
        .When(series => SeriesDecider.PlanBreak(series, Pause, Twelfth, Twelfth.PlusYears(4), null, Before))
        .ThenRefused("break.invalid", "/to");

    [Fact]
    public void A_break_planned_at_a_slots_time_or_later_excuses_it_no_more()
    {
        Assert.NotNull(Slot(After(Break(Twelfth, Twelfth, SlotAt - Duration.Epsilon))).Excuse);
        Assert.Null(Slot(After(Break(Twelfth, Twelfth, SlotAt))).Excuse);
    }

    [Fact]
    public void A_break_cancelled_before_a_slots_time_promises_it_again()
    {
        var planned = Break(Twelfth, Twelfth, Before);

        Assert.Null(Slot(After(planned, new BreakCancelled(Pause, SlotAt - Duration.Epsilon))).Excuse);
        Assert.NotNull(Slot(After(planned, new BreakCancelled(Pause, SlotAt))).Excuse);
    }

    [Fact]
    public void A_break_is_cancelled_once()
    {
        var story = Given(Break(Twelfth, Twelfth, Before))
            .When(series => SeriesDecider.CancelBreak(series, Pause, Later))
            .Then(new BreakCancelled(Pause, Later));

        story.When(series => SeriesDecider.CancelBreak(series, Pause, Later)).ThenNothing();
        story.When(series => SeriesDecider.CancelBreak(series, Guid.Empty, Later)).ThenNothing();
    }

    [Fact]
    public void Of_two_breaks_over_a_slot_one_is_enough()
    {
        var other = Break(March(1), March(30), Before) with { Break = Guid.Empty };

        Assert.NotNull(Slot(After(Break(Twelfth, Twelfth, Before), other, new BreakCancelled(Pause, Before))).Excuse);
    }

    [Fact]
    public void A_slot_moved_into_a_break_is_excused_and_one_moved_out_is_owed()
    {
        var move = Moved(March(14) + Seven, Before);

        Assert.NotNull(Slot(After(move, Break(March(14), March(14), Before))).Excuse);
        Assert.Null(Slot(After(move, Break(Twelfth, Twelfth, Before))).Excuse);
    }

    [Fact]
    public void A_slot_moved_after_its_time_stays_where_the_break_found_it()
    {
        var move = Moved(March(14) + Seven, Later);

        Assert.NotNull(Slot(After(Break(Twelfth, Twelfth, Before), move)).Excuse);
        Assert.Null(Slot(After(Break(March(14), March(14), Before), move)).Excuse);
    }

    [Fact]
    public void Every_decision_about_a_break_raises_the_revision_of_a_slot_it_touches()
    {
        SeriesEvent[] decisions =
        [
            Moved(March(14) + Seven, Before),
            Break(March(14), March(14), Before),
            new BreakCancelled(Pause, Before),
            Moved(March(16) + Seven, Before),
        ];

        Assert.Equal([0, 1, 2, 3, 4], Enumerable.Range(0, 5).Select(i => Slot(After(decisions.Take(i))).Revision));
    }
}
