using CsCheck;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Domain.Statistics.Forecast;
using static Releasekit.Domain.Tests.Statistics.Forecast.Ahead;
using Made = Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Forecast;

/// <summary>Reckoned by hand, in days from a Monday, nine o'clock.</summary>
public sealed class UsualPaceTests
{
    [Fact]
    public void Begun_it_takes_as_long_from_the_same_stages_done_less_what_it_has_waited_there()
    {
        // Cut done on day 2, ready on day 8: six days; of the open one four have passed since its cut.
        var past = Past(slot: 10, start: 0, cut: 2, mix: 8, published: 10);
        var open = Open(cut: 1);

        var pace = UsualPace.Of(open, Day(12), [(past, Day(10))], Day(5));

        Assert.Equal(new PastPace(2 * 24, 0), Assert.Single(pace.Rows));
        Assert.Equal(7 * 24, pace.SlotHours);
    }

    [Fact]
    public void A_past_release_that_would_be_ready_by_now_is_none_to_go_by()
    {
        var past = Past(slot: 10, start: 0, cut: 2, mix: 8, published: 10);

        var pace = UsualPace.Of(Open(cut: 1), Day(12), [(past, Day(10))], Day(7));

        Assert.True(double.IsNaN(pace.Rows[0].Hours));
    }

    [Fact]
    public void Not_begun_it_is_ready_as_long_before_its_slot_or_begins_now_where_it_should_have_begun()
    {
        var past = Past(slot: 10, start: 0, cut: 2, mix: 8, published: 10);
        var open = Open(cut: null);

        // Fifteen days ahead: the other began ten before its slot and was ready two before it.
        Assert.Equal(13 * 24, UsualPace.Of(open, Day(20), [(past, Day(10))], Day(5)).Rows[0].Hours);

        // Nine days ahead it would have begun yesterday; it took eight.
        Assert.Equal(8 * 24, UsualPace.Of(open, Day(20), [(past, Day(10))], Day(11)).Rows[0].Hours);
        Assert.True(double.IsNaN(UsualPace.Of(open, null, [(past, Day(10))], Day(11)).Rows[0].Hours));
    }

    [Fact]
    public void Ready_is_not_published_and_what_has_waited_for_longer_is_none_to_go_by()
    {
        var prompt = Past(slot: 10, start: 0, cut: 2, mix: 8, published: 10);
        var late = Past(slot: 10, start: 0, cut: 2, mix: 8, published: 13);
        var open = Open(cut: 1, mix: 4);
        (ReleaseFacts, Instant?)[] rows = [(prompt, Day(10)), (late, Day(10))];

        var before = UsualPace.Of(open, Day(12), rows, Day(6));
        var after = UsualPace.Of(open, Day(12), rows, Day(13));

        Assert.Equal([new(0, 0), new(0, 3 * 24)], before.Rows);
        Assert.True(double.IsNaN(after.Rows[0].Hours));
        Assert.Equal(new PastPace(0, 2 * 24), after.Rows[1]);
    }

    [Fact]
    public void A_slot_is_met_as_often_as_past_slots_were_and_work_comes_on_top()
    {
        // Four of five past releases were public at once, one three days after its slot; grace is a day.
        ReleaseFacts[] past =
        [
            .. Enumerable.Range(1, 5).Select(i => Past(10, 0, 2, 8, i == 5 ? 13 : 10)),
        ];
        (ReleaseFacts, Instant?)[] rows = [.. past.Select(one => (one, (Instant?)Day(10)))];
        var law = WorkLaw.OfPast(Ahead.Past([8], [8], [8], [8], [8]));
        var slot = Day(21);

        var met = Forecast(Ahead.Open(1, slot, Line(1)) with { Grace = Duration.FromDays(1) });
        var tight = Forecast(Ahead.Open(1, Day(0) + Duration.FromHours(4), Line(1)));

        AssertNear(0.8, (int)Math.Round(met.Met!.Value * 10_000), 10_000);
        Assert.Equal(Day(19), met.Finish[0].At);
        Assert.Equal(0, tight.Met!.Value);

        ReleaseForecast Forecast(OpenRelease open) => WorkForecast.Simulate(
            TrialModel.Of(
                [
                    new LawfulRelease(open, law)
                    {
                        Pace = UsualPace.Of(Open(cut: null), open.SlotAt, rows, Day(0)),
                    },
                ],
                WorkPattern.UsualPace),
            Eight, Day(0), seed: 1).Releases[0];
    }

    [Fact]
    public void The_elapsed_clock_says_what_the_calendar_says() => Gen.Double[0, 400].Array[1, 20].Sample(works =>
    {
        var calendar = Days(new LocalDate(2024, 5, 9), new LocalDate(2024, 5, 20));
        var clock = new ElapsedClock(calendar, Monday9, 400);

        Assert.All(works, work => Assert.Equal(
            (calendar.Add(Monday9, Duration.FromHours(work))!.Value - Monday9).TotalHours, clock.After(work), 6));
        Assert.Equal(0, clock.After(0));
        Assert.Equal(double.PositiveInfinity, clock.After(1000));
    });

    private static Instant Day(double day) => Monday9 + Duration.FromDays(day);

    private static ReleaseFacts Past(double slot, double start, double cut, double mix, double published) =>
        Made.Release(Day(start - 1), Day(100), Day(published),
        [
            Made.Stage("cut", StageRole.Making, new StageVisit(Day(start), Day(cut), [])),
            Made.Stage("mix", StageRole.Making, new StageVisit(Day(cut), Day(mix), [])),
        ]) with
        {
            Slot = Day(slot).InUtc().Date,
        };

    private static ReleaseFacts Open(double? cut, double? mix = null) => Made.Release(Day(-2), Day(100), null,
    [
        cut is { } done
            ? Made.Stage("cut", StageRole.Making, new StageVisit(Day(0), Day(done), []))
            : Made.Stage("cut", StageRole.Making),
        mix is { } mixed
            ? Made.Stage("mix", StageRole.Making, new StageVisit(Day(cut!.Value), Day(mixed), []))
            : Made.Stage("mix", StageRole.Making),
    ]);
}
