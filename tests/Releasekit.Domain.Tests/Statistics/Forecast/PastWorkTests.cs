using CsCheck;
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

        var past = PastWork.Of([release], ["cut", "mix", "publish"], Worked(release));

        Assert.Equal([3, 0, 0], Assert.Single(past.Rows));
        Assert.Equal(0, past.LeftOut);
    }

    [Fact]
    public void A_release_that_cannot_tell_is_left_out_and_counted()
    {
        var unknown = Made.Release(
            Monday, At(200), At(30), [Made.Stage("cut", StageRole.Making, new StageVisit(null, At(20), []))]);
        var without = unknown with { Stages = [] };

        var past = PastWork.Of([unknown, without], ["cut"], Worked(unknown));

        Assert.Empty(past.Rows);
        Assert.Equal(2, past.LeftOut);
        Assert.Throws<ArgumentException>(() => WorkLaw.OfPast(past));
    }

    [Fact]
    public void A_stage_ticked_without_a_start_is_taken_to_begin_at_the_tick_before_it()
    {
        // Common practice, no source: one person does one thing after another.
        var release = Made.Release(Monday, At(200), At(30),
        [
            Made.Stage("cut", StageRole.Making, new StageVisit(null, At(4), [])) with
            {
                Effort = Duration.FromHours(3),
            },
            Made.Stage("mix", StageRole.Making, new StageVisit(null, At(25), [])),
            Made.Stage("publish", StageRole.Publication, new StageVisit(null, At(30), [])),
        ]);

        var past = PastWork.Of([release], ["cut", "mix"], Worked(release));

        // From Monday 13:00 to Tuesday 10:00 are five working hours; the first of all took its effort.
        Assert.Equal([3, 5], Assert.Single(past.Rows));
        Assert.Equal((0, 1), (past.LeftOut, past.StartsTaken));
    }

    [Fact]
    public void What_lies_ahead_of_a_release_ends_with_its_publication()
    {
        var release = Planned(Plan, Done("outline"), Started("cut"));

        var now = Episodes9() + Duration.FromHours(3);
        var worked = WorkedHours.Of([FactReading.Of(release, now)], now, Office);

        var open = OpenRelease.Of(release, now, Slot, worked)!;

        Assert.Equal(["cut", "mix", "notes", "publish"], open.Stages.Select(stage => stage.Key));
        Assert.Equal([3, 0, 0, 0], open.Stages.Select(stage => stage.DoneHours));
        Assert.Equal(["mix", "notes"], open.Stages[3].After);
        Assert.Null(OpenRelease.Of(
            Planned(Plan, Done("publish")), now, Slot, worked));
    }

    [Fact]
    public void An_hour_in_which_two_stages_were_under_way_is_worked_once()
    {
        // Monday 9:00 to 13:00 beside 11:00 to 15:00: two hours shared, and two alone each.
        var one = Made.Release(Monday, At(200), null,
            [Made.Stage("cut", StageRole.Making, new StageVisit(At(0), At(4), []))]);
        var other = Made.Release(Monday, At(200), null,
            [Made.Stage("cut", StageRole.Making, new StageVisit(At(2), At(6), []))], name: 1);

        var worked = WorkedHours.Of([one, other], At(200), Eight);

        Assert.Equal((3, 3), (worked.On(one.Release, "cut"), worked.On(other.Release, "cut")));
    }

    [Fact]
    public void Nothing_is_worked_twice_and_nothing_is_lost() =>
        Gen.Select(Gen.Int[0, 300], Gen.Int[1, 80]).Array[1, 8].Sample(spells =>
        {
            ReleaseFacts[] releases =
            [
                .. spells.Select((spell, name) => Made.Release(
                    Monday, At(500), null,
                    [
                        Made.Stage(
                            "cut", StageRole.Making,
                            new StageVisit(At(spell.Item1), At(spell.Item1 + spell.Item2), [])),
                    ],
                    name)),
            ];

            var worked = WorkedHours.Of(releases, At(500), Eight);

            var underWay = Enumerable.Range(0, 500)
                .Where(hour => spells.Any(spell => spell.Item1 <= hour && hour < spell.Item1 + spell.Item2))
                .Sum(hour => Eight.Between(At(hour), At(hour + 1))!.Value.TotalHours);
            Assert.Equal(underWay, releases.Sum(release => worked.On(release.Release, "cut")), 4);
        });

    private static WorkedHours Worked(ReleaseFacts release) => WorkedHours.Of([release], At(200), Eight);

    private static Instant Episodes9() => Planning.Episodes.Monday9;

    private static Instant At(double hours) => Monday + Duration.FromHours(hours);
}
