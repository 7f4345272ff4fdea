using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Chart;
using Releasekit.Domain.Statistics.Flow;
using static Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Chart;

public sealed class ChartPointsTests
{
    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];

    [Fact]
    public void A_clock_change_is_no_change_of_the_process()
    {
        // The clock in Lisbon goes forward on 29 March 2026, day 83 of the origin: from noon to noon in 23 hours.
        var point = Assert.Single(ChartPoints.OfCycle([FromTo(82.5, 83 + 11 / 24.0)], Lisbon));

        Assert.Equal(1, point.Value, 9);
    }

    [Fact]
    public void Points_come_in_the_order_of_publication_and_what_is_unknown_has_none()
    {
        var unknown = Release(
            Day(0), Day(99), Day(3), [Stage("cut", StageRole.Making, new StageVisit(null, Day(2), []))]);
        ReleaseFacts[] facts = [FromTo(1, 9, name: 2), unknown, FromTo(2, 5, name: 1), FromTo(3, null)];

        Assert.Equal([3, 8], ChartPoints.OfCycle(facts, DateTimeZone.Utc).Select(point => point.Value));
        Assert.Equal([3, 8], ChartPoints.OfStage(facts, "cut", DateTimeZone.Utc).Select(point => point.Value));
        Assert.Empty(ChartPoints.OfStage(facts, "mix", DateTimeZone.Utc));
    }

    [Fact]
    public void Lateness_is_signed_and_extras_have_none()
    {
        var (early, late, extra) = (FromTo(0, 6, name: 1), FromTo(0, 15, name: 2), FromTo(0, 20, name: 3));
        SlotOutcome[] slots = [Slot(7, early), Slot(14, late)];

        var points = ChartPoints.OfLateness([early, late, extra], new JudgedHistory(slots, [], []), DateTimeZone.Utc);

        Assert.Equal([-1, 1], points.Select(point => point.Value));
    }

    private static SlotOutcome Slot(int day, ReleaseFacts release) => new(
        Day(day).InUtc().Date, Day(day), SlotStatus.Met, release.PublishedAt, release.Release);
}
