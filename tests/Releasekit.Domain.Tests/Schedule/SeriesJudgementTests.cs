using CsCheck;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class SeriesJudgementTests
{
    private static readonly Guid Episode = new("0197a5c0-0000-7000-8000-000000000012");
    private static readonly string[] Rules = ["FREQ=WEEKLY;BYDAY=TH", "FREQ=DAILY", "FREQ=WEEKLY;BYDAY=MO,WE,FR"];

    [Fact]
    public void A_held_slot_is_judged_alike_alone_and_in_the_series() => Gen.Select(
            Gen.OneOf(Rules), Gen.Int[0, 59], Gen.Int[-100, 300].Nullable(), Gen.Int[-200, 400], Gen.Int[0, 2],
            Gen.Bool)
        .Sample((rule, day, publishedIn, askedIn, change, isOthersPublished) =>
        {
            var series = Decided(rule, change);
            if (SlotCalendar.Find(series, Thursdays.Start.PlusDays(day)) is not { } slot)
            {
                return;
            }

            var publishedAt = publishedIn is { } hours ? slot.PromisedAt + Duration.FromHours(hours) : (Instant?)null;
            var at = slot.PromisedAt + Duration.FromHours(askedIn);
            ReleaseMark[] marks =
            [
                new(Episode, slot.Date, publishedAt),
                .. isOthersPublished ? [new ReleaseMark(Guid.Empty, null, slot.PromisedAt + Duration.FromHours(100))]
                    : (ReleaseMark[])[],
            ];

            var judged = SeriesJudgement.Judge(series, marks, slot.Date, at).Slots.Single(one => one.Date == slot.Date);
            var alone = HeldSlot.StatusOf(slot, publishedAt, SlotCalendar.ToleranceOf(series), at);

            Assert.True(
                alone == judged.Status || (alone is null && judged.Status is SlotStatus.Overdue or SlotStatus.Missed));
            Assert.Equal(Episode, judged.Release);
        }, iter: 2000);

    [Theory]
    [InlineData(-1, SlotStatus.Held)]
    [InlineData(0, SlotStatus.Pending)]
    [InlineData(24, SlotStatus.Pending)]
    [InlineData(25, null)]
    [InlineData(144, null)]
    [InlineData(145, SlotStatus.Missed)]
    public void An_unpublished_release_runs_from_held_to_missed(int hours, SlotStatus? expected) => Assert.Equal(
        expected, HeldSlot.StatusOf(Slot(After()), null, Duration.FromHours(24), SlotAt + Duration.FromHours(hours)));

    [Fact]
    public void A_release_published_after_its_slot_counted_as_missed_is_late() => Assert.Equal(
        SlotStatus.Late,
        HeldSlot.StatusOf(
            Slot(After()), SlotAt + Duration.FromDays(30), Duration.FromHours(24), SlotAt + Duration.FromDays(31)));

    [Fact]
    public void A_publication_may_be_early_for_a_slot_just_beyond_the_window()
    {
        var early = SlotAt - Duration.FromDays(2);
        var judged = SeriesJudgement.Judge(After(), [new(Episode, null, early)], March(6), early);

        Assert.Empty(judged.Extras);
        Assert.Equal(early, judged.Slots.Single(slot => slot.Date == Twelfth).PublishedAt);
    }

    [Fact]
    public void A_history_reaches_back_to_the_first_rule_even_when_a_later_one_comes_before_it()
    {
        var series = Story.OfSeries.Given(
            Opened, FirstRule with { From = March(20), Terms = Thursdays with { Start = March(20) } },
            new CadenceSet(Thursdays with { Start = Twelfth }, Twelfth, Before)).State!;

        Assert.Equal(Twelfth, SeriesJudgement.Judge(series, [], March(30), Later).Slots[0].Date);
    }

    private static Series Decided(string rule, int change) => Story.OfSeries.Given(
    [
        Opened,
        FirstRule with { Terms = Thursdays with { Rrule = rule } },
        .. change switch
        {
            1 => [Break(new(2026, 1, 8), new(2026, 2, 1), OpenedAt)],
            2 => [new SlotMoved(new(2026, 1, 15), new LocalDateTime(2026, 1, 15, 21, 0), OpenedAt)],
            _ => (SeriesEvent[])[],
        },
    ]).State!;
}
