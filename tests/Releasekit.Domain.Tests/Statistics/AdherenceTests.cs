using CsCheck;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class AdherenceTests
{
    private static readonly LocalDateTime FirstSlot = new(2026, 1, 1, 7, 0);

    private static readonly Gen<JudgedHistory> GenHistory = Gen.Select(
        Gen.Select(Gen.Bool, Gen.Bool, Gen.Int[0, 9]).Array[0, 12], Gen.Int[-3, 90].Array[0, 12], Gen.Int[0, 90],
        JudgeMixed);

    [Fact]
    public void Slots_are_due_pending_excused_or_to_come() =>
        Gen.Select(GenHistory, Gen.Int[-10, 90], Gen.Int[0, 90]).Sample((judged, firstDay, days) =>
        {
            var from = FirstSlot.Date.PlusDays(firstDay);
            var figures = Adherence.Summarise(judged, from, from.PlusDays(days));

            Assert.Equal(figures.Slots, figures.Due + figures.Pending + figures.Excused + figures.Future);
            Assert.Equal(figures.Due, figures.OnTime + figures.Late + figures.Overdue + figures.Missed);
            Assert.Equal(figures.LatenessHours.N, figures.OnTime + figures.Late);
            Assert.Equal(figures.Drift.N, figures.LatenessHours.N);
            Assert.InRange(figures.CurrentStreak, 0, figures.LongestStreak);
            Assert.InRange(figures.LongestStreak, 0, figures.OnTime);
        });

    [Fact]
    public void Every_publication_has_one_slot_or_is_an_extra() => GenHistory.Sample(judged =>
    {
        var placed = judged.Slots.Where(slot => slot.PublishedAt is not null).Select(slot => slot.Release!.Value);

        Assert.Equal(
            judged.Publications.Select(publication => publication.Release).Order(),
            placed.Concat(judged.Extras.Select(extra => extra.Release)).Order());
    });

    [Fact]
    public void Windows_side_by_side_count_everything_once() => Gen.Select(GenHistory, Gen.Int[0, 90])
        .Sample((judged, day) =>
        {
            var border = FirstSlot.Date.PlusDays(day);
            var (one, next) = (Until(judged, border), Adherence.Summarise(judged, border, LocalDate.MaxIsoValue));
            var all = Until(judged, LocalDate.MaxIsoValue);

            Assert.Equal((all.Slots, all.OnTime, all.Missed, all.Extra),
                (one.Slots + next.Slots, one.OnTime + next.OnTime, one.Missed + next.Missed, one.Extra + next.Extra));
        });

    [Fact]
    public void Pending_and_excused_slots_neither_break_nor_lengthen_a_streak()
    {
        PromisedSlot[] slots = [Slot(0), Slot(1, isExcused: true), Slot(2), Slot(3)];

        var figures = Until(Judge(slots, [0, 14], atDay: 21), LocalDate.MaxIsoValue);

        Assert.Equal((2, 2, 1, 1), (figures.CurrentStreak, figures.LongestStreak, figures.Pending, figures.Excused));
        Assert.Equal(0, figures.Gaps.N);
    }

    [Fact]
    public void A_missed_slot_ends_a_streak()
    {
        var figures = Until(Judge([Slot(0), Slot(1), Slot(2), Slot(3)], [0, 7, 21], atDay: 30), LocalDate.MaxIsoValue);

        Assert.Equal((1, 2, 1), (figures.CurrentStreak, figures.LongestStreak, figures.Missed));
        Assert.Equal((2, 10.5), (figures.Gaps.N, figures.Gaps.MeanDays!.Value));
    }

    [Fact]
    public void A_series_without_slots_has_no_figures_and_no_zeros_in_their_place()
    {
        var figures = Until(Judge([], [], atDay: 0), LocalDate.MaxIsoValue);

        Assert.Equal(new ProportionEstimate(null, 0, 1, 0), figures.OnTimeRate);
        Assert.Equal(new LatenessFigures(0, null, null, null, null, null), figures.LatenessHours);
        Assert.Equal(new GapFigures(0, null, null, null, null, null), figures.Gaps);
        Assert.Equal(new DriftFigures(null, null, 0), figures.Drift);
    }

    [Fact]
    public void Drift_steps_over_missed_slots_and_not_over_excused_ones()
    {
        PromisedSlot[] slots = [Slot(0), Slot(1, isExcused: true), Slot(2), Slot(3)];

        // On time, missed, two days late: indices 0 and 2.
        var figures = Until(Judge(slots, [0, 23], atDay: 60), LocalDate.MaxIsoValue);

        Assert.Equal(24, figures.Drift.HoursPerSlot);
    }

    private static AdherenceFigures Until(JudgedHistory judged, LocalDate to) =>
        Adherence.Summarise(judged, LocalDate.MinIsoValue, to);

    private static JudgedHistory Judge(PromisedSlot[] slots, int[] publicationDays, int atDay) =>
        SlotJudgement.Judge(slots, [.. publicationDays.Select(day => Published(day, Guid.NewGuid(), null))],
            Duration.FromDays(1), FirstSlot.PlusDays(atDay).InUtc().ToInstant());

    private static JudgedHistory JudgeMixed((bool IsExcused, bool IsHeld, int Delay)[] weeks, int[] days, int atDay)
    {
        PromisedSlot[] slots =
        [
            .. weeks.Select((week, index) => Slot(index, week.IsExcused, week.IsHeld ? Guid.NewGuid() : null)),
        ];
        var held = slots.Zip(weeks).Where(pair => pair.First.HeldBy is not null).Select((pair, index) =>
            Published(index * 7 + pair.Second.Delay, pair.First.HeldBy!.Value, pair.First.Date));
        var free = days.Select(day => Published(day, Guid.NewGuid(), null));
        return SlotJudgement.Judge(
            slots, [.. held, .. free], Duration.FromDays(1), FirstSlot.PlusDays(atDay).InUtc().ToInstant());
    }

    private static PromisedSlot Slot(int week, bool isExcused = false, Guid? heldBy = null)
    {
        var local = FirstSlot.PlusWeeks(week);
        return new PromisedSlot(
            local.Date, local.InUtc().ToInstant(), isExcused, heldBy, Duration.FromDays(3), Duration.FromDays(6));
    }

    private static Publication Published(int day, Guid release, LocalDate? slot)
    {
        var local = FirstSlot.PlusDays(day);
        return new Publication(release, local.InUtc().ToInstant(), local, slot);
    }
}
