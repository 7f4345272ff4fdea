using Releasekit.Domain.Statistics.Flow;
using Releasekit.Domain.Statistics.Forecast;
using static Releasekit.Domain.Tests.Planning.Episodes;
using static Releasekit.Domain.Tests.Statistics.Forecast.Ahead;
using Made = Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Forecast;

public sealed class PastWorkTests
{
    private static readonly Instant Monday = Ahead.Monday9;

    [Fact]
    public void A_row_is_the_working_hours_of_a_whole_release()
    {
        // From Monday 15:00 to Tuesday 11:00 are four working hours, one of them blocked; skipped is nothing.
        var visit = new StageVisit(At(6), At(26), [new Interval(At(24), At(25))]);
        var release = Made.Release(Monday, At(200), At(30),
        [
            Made.Stage("cut", StageRole.Making, visit),
            Made.Stage("mix", StageRole.Making) with { IsSkipped = true },
            Made.Stage("publish", StageRole.Publication, new StageVisit(null, At(30), [])),
        ]);

        var past = PastWork.Of([release, release with { PublishedAt = null }], ["cut", "mix", "publish"], Eight);

        Assert.Equal([3, 0, 0], Assert.Single(past.Rows));
        Assert.Equal(0, past.LeftOut);
    }

    [Fact]
    public void A_release_that_cannot_tell_is_left_out_and_counted()
    {
        var unknown = Made.Release(
            Monday, At(200), At(30), [Made.Stage("cut", StageRole.Making, new StageVisit(null, At(20), []))]);
        var without = unknown with { Stages = [] };

        var past = PastWork.Of([unknown, without], ["cut"], Eight);

        Assert.Empty(past.Rows);
        Assert.Equal(2, past.LeftOut);
        Assert.Throws<ArgumentException>(() => WorkLaw.OfPast(past));
    }

    [Fact]
    public void What_lies_ahead_of_a_release_ends_with_its_publication()
    {
        var release = Planned(Plan, Done("outline"), Started("cut"));

        var open = OpenRelease.Of(release, Episodes9() + Duration.FromHours(3), Slot, Office)!;

        Assert.Equal(["cut", "mix", "notes", "publish"], open.Stages.Select(stage => stage.Key));
        Assert.Equal([3, 0, 0, 0], open.Stages.Select(stage => stage.DoneHours));
        Assert.Equal(["mix", "notes"], open.Stages[3].After);
        Assert.Null(OpenRelease.Of(
            Planned(Plan, Done("publish")), Episodes9() + Duration.FromHours(3), Slot, Office));
    }

    private static Instant Episodes9() => Planning.Episodes.Monday9;

    private static Instant At(double hours) => Monday + Duration.FromHours(hours);
}
