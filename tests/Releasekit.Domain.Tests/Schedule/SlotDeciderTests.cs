using Releasekit.Domain.Schedule;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class SlotDeciderTests
{
    private static readonly LocalDateTime Saturday = March(14) + Seven;
    private static readonly SlotGivenUp GivenUp = new(Twelfth, "flu", Before);
    private static readonly SlotTakenUp TakenUp = new(Twelfth, Before);

    [Fact]
    public void A_slot_moved_before_its_time_changes_what_was_promised_and_keeps_its_name()
    {
        var slot = Slot(Move(Saturday, Before).Then(Moved(Saturday, Before)).State!);

        Assert.Equal((Twelfth, Instant.FromUtc(2026, 3, 14, 7, 0)), (slot.Date, slot.PromisedAt));
        Assert.Equal((slot.PromisedAt, Before, 1), (slot.At, slot.ChangedAt, slot.Revision));
    }

    [Fact]
    public void A_slot_moved_after_its_time_stands_elsewhere_and_the_promise_stays()
    {
        var slot = Slot(Move(Saturday, SlotAt).Then(Moved(Saturday, SlotAt)).State!);

        Assert.Equal((Instant.FromUtc(2026, 3, 14, 7, 0), SlotAt), (slot.At, slot.PromisedAt));
    }

    [Fact]
    public void Where_it_stands_already_nothing_changes()
    {
        Move(Twelfth + Seven, Later).ThenNothing();
        Move(Saturday, Later, Moved(Saturday, Before)).ThenNothing();
    }

    [Fact]
    public void A_slot_does_not_move_into_the_past() =>
        Move(Twelfth.PlusDays(-4) + Seven, Before).ThenRefused("slot.move_past", "/moveTo");

    [Fact]
    public void A_slot_does_not_move_onto_another() =>
        Move(March(19) + new LocalTime(23, 0), Before).ThenRefused("slot.occupied");

    [Fact]
    public void A_slot_does_not_move_onto_one_that_was_moved_there() =>
        Move(Saturday, Before, new SlotMoved(March(19), Saturday.PlusHours(2), Before)).ThenRefused("slot.occupied");

    [Fact]
    public void A_slot_moves_to_a_day_that_another_has_left() => Move(
            March(19) + Seven, Before, new SlotMoved(March(19), March(20) + Seven, Before))
        .Then(Moved(March(19) + Seven, Before));

    [Fact]
    public void A_slot_may_move_within_its_own_day() =>
        Move(Twelfth + new LocalTime(8, 0), Before).Then(Moved(Twelfth + new LocalTime(8, 0), Before));

    [Fact]
    public void A_slot_given_up_in_time_is_excused_and_taken_up_in_time_is_owed_again()
    {
        var story = Given()
            .When(series => SlotDecider.GiveUp(Slot(series), "flu", Before))
            .Then(GivenUp);
        Assert.Equal(new SlotExcuse(GivenUp: true, "flu"), Slot(story.State!).Excuse);

        story.When(series => SlotDecider.TakeUp(Slot(series), Before)).Then(TakenUp);
        Assert.Null(Slot(story.State!).Excuse);
    }

    [Fact]
    public void Giving_up_after_its_time_excuses_nothing_and_repeating_it_changes_nothing()
    {
        var story = Given()
            .When(series => SlotDecider.GiveUp(Slot(series), "flu", SlotAt))
            .Then(GivenUp with { RecordedAt = SlotAt });

        Assert.Null(Slot(story.State!).Excuse);
        story.When(series => SlotDecider.GiveUp(Slot(series), "flu", Later)).ThenNothing();
    }

    [Fact]
    public void Taking_up_after_its_time_leaves_it_excused_and_repeating_it_changes_nothing()
    {
        var story = Given(GivenUp)
            .When(series => SlotDecider.TakeUp(Slot(series), SlotAt))
            .Then(TakenUp with { RecordedAt = SlotAt });

        Assert.NotNull(Slot(story.State!).Excuse);
        story.When(series => SlotDecider.TakeUp(Slot(series), Later)).ThenNothing();
    }

    [Fact]
    public void Repeating_in_time_changes_nothing()
    {
        Given(GivenUp).When(series => SlotDecider.GiveUp(Slot(series), "flu", Before)).ThenNothing();
        Given().When(series => SlotDecider.TakeUp(Slot(series), Before)).ThenNothing();
    }

    [Fact]
    public void A_slot_given_up_is_taken_up_before_it_moves() =>
        Move(Saturday, Before, GivenUp).ThenRefused("slot.given_up");

    [Fact]
    public void A_reason_has_no_control_characters() => Given()
        .When(series => SlotDecider.GiveUp(Slot(series), "bell\u0007", Before))
        .ThenRefused("reason.invalid", "/reason");

    private static Story<Series, SeriesEvent> Move(LocalDateTime to, Instant now, params SeriesEvent[] before) =>
        Given(before).When(series => SlotDecider.Move(series, Slot(series), to, now));
}
