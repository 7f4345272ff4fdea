using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class SlotJudgementTests
{
    private static readonly LocalDateTime FirstSlot = new(2026, 1, 1, 7, 0);
    private static readonly Guid Episode = Guid.NewGuid();

    [Theory]
    [InlineData(-1, SlotStatus.Open)]
    [InlineData(0, SlotStatus.Pending)]
    [InlineData(24, SlotStatus.Pending)]
    [InlineData(25, SlotStatus.Overdue)]
    [InlineData(144, SlotStatus.Overdue)]
    [InlineData(145, SlotStatus.Missed)]
    public void A_slot_nobody_publishes_for_goes_from_open_to_missed(int hours, SlotStatus expected) =>
        Assert.Equal(expected, StatusOfFirst([Slot(0)], [], Hours(hours)));

    [Theory]
    [InlineData(-72, SlotStatus.Met)]
    [InlineData(24, SlotStatus.Met)]
    [InlineData(25, SlotStatus.Late)]
    [InlineData(144, SlotStatus.Late)]
    [InlineData(-73, SlotStatus.Missed)]
    [InlineData(145, SlotStatus.Missed)]
    public void A_publication_inside_the_windows_meets_a_slot_or_is_late(int hours, SlotStatus expected) =>
        Assert.Equal(expected, StatusOfFirst([Slot(0)], [Published(hours)], Hours(1000)));

    [Fact]
    public void A_held_slot_takes_its_release_however_late_even_after_it_counted_as_missed()
    {
        PromisedSlot[] slots = [Slot(0, heldBy: Episode), Slot(1), Slot(2)];
        Publication[] publications = [Published(400, Episode, FirstSlot.Date), Published(24 * 7)];

        Assert.Equal(SlotStatus.Missed, StatusOfFirst(slots, publications, Hours(399)));
        Assert.Equal(SlotStatus.Late, StatusOfFirst(slots, publications, Hours(400)));
        Assert.Empty(Judge(slots, publications, Hours(400)).Extras);
    }

    [Fact]
    public void A_held_slot_takes_no_other_release() =>
        Assert.Equal([SlotStatus.Overdue], Judge([Slot(0, heldBy: Episode)], [Published(1)], Hours(30))
            .Slots.Select(slot => slot.Status));

    [Fact]
    public void A_publication_no_held_slot_lets_in_is_an_extra() =>
        Assert.Single(Judge([Slot(0, heldBy: Episode)], [Published(1)], Hours(30)).Extras);

    [Fact]
    public void An_overdue_slot_is_missed_once_a_later_one_is_published()
    {
        PromisedSlot[] slots = [Slot(0), Slot(1, heldBy: Episode)];
        var early = Published(100, Episode, slots[1].Date);

        Assert.Equal(SlotStatus.Overdue, StatusOfFirst(slots, [early], Hours(99)));
        Assert.Equal(SlotStatus.Missed, StatusOfFirst(slots, [early], Hours(100)));
    }

    [Fact]
    public void A_publication_early_for_a_slot_to_come_is_no_extra_and_the_slot_stays_in_the_future()
    {
        var judged = Judge([Slot(0), Slot(1)], [Published(0), Published(24 * 7 - 48)], Hours(24 * 7 - 24));

        Assert.Equal([SlotStatus.Met, SlotStatus.Open], judged.Slots.Select(slot => slot.Status));
        Assert.Equal(Duration.FromDays(-2), judged.Slots[1].Lateness);
        Assert.Empty(judged.Extras);
    }

    [Fact]
    public void A_release_holding_a_slot_beyond_those_given_is_neither_matched_nor_an_extra()
    {
        var judged = Judge([Slot(0)], [Published(1, Episode, FirstSlot.Date.PlusWeeks(9))], Hours(30));

        Assert.Equal(SlotStatus.Overdue, judged.Slots[0].Status);
        Assert.Empty(judged.Extras);
    }

    [Fact]
    public void An_excused_slot_takes_nothing_and_stays_excused()
    {
        var judged = Judge([Slot(0, isExcused: true)], [Published(1)], Hours(30));

        Assert.Equal(SlotStatus.Excused, judged.Slots[0].Status);
        Assert.Single(judged.Extras);
    }

    [Fact]
    public void Publications_after_the_instant_do_not_count_yet() =>
        Assert.Equal(SlotStatus.Pending, StatusOfFirst([Slot(0)], [Published(2)], Hours(1)));

    [Fact]
    public void Of_several_publications_of_one_release_the_first_counts()
    {
        var judged = Judge([Slot(0)], [Published(30, Episode), Published(2, Episode)], Hours(40));

        Assert.Equal((SlotStatus.Met, Episode), (judged.Slots[0].Status, judged.Slots[0].Release!.Value));
        Assert.Single(judged.Publications);
    }

    private static Duration Hours(int hours) => Duration.FromHours(hours);

    private static SlotStatus StatusOfFirst(PromisedSlot[] slots, Publication[] publications, Duration after) =>
        Judge(slots, publications, after).Slots[0].Status;

    private static JudgedHistory Judge(PromisedSlot[] slots, Publication[] publications, Duration after) =>
        SlotJudgement.Judge(slots, publications, Hours(24), FirstSlot.InUtc().ToInstant() + after);

    private static PromisedSlot Slot(int week, bool isExcused = false, Guid? heldBy = null)
    {
        var local = FirstSlot.PlusWeeks(week);
        return new PromisedSlot(
            local.Date, local.InUtc().ToInstant(), isExcused, heldBy, Duration.FromDays(3), Duration.FromDays(6));
    }

    private static Publication Published(int hours, Guid? release = null, LocalDate? slot = null)
    {
        var local = FirstSlot.PlusHours(hours);
        return new Publication(release ?? Guid.NewGuid(), local.InUtc().ToInstant(), local, slot);
    }
}
