using System.Text.Json;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Flow;
using static Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Flow;

public sealed class FlowFiguresTests
{
    private static readonly string[] Order = ["outline", "record", "edit", "publish"];

    /// <summary>Own example on the definitions of the Kanban Guide, May 2025 (opened).</summary>
    [Fact]
    public void Five_releases_flow_as_the_definitions_say()
    {
        var check = CheckCase.Find("statistics.json", "b.items.five_releases");
        var releases = Releases(check);

        var figures = FlowFigures.Of([.. releases.Values], Hour(0), Hour(100), DateTimeZone.Utc);

        foreach (var expected in check.Expected.GetProperty("per_item").EnumerateObject())
        {
            AssertRelease(check, releases[expected.Name], expected.Value);
        }

        foreach (var stage in check.Expected.GetProperty("stage_time").EnumerateObject())
        {
            var time = figures.Stages.Single(one => one.Key == stage.Name).Time;
            Assert.Equal(
                stage.Value.EnumerateObject().Select(hours => hours.Value.GetDouble() / 24).Order().Last(), time.Max);
            Assert.Equal(stage.Value.EnumerateObject().Count(), time.N);
        }

        Assert.Equal(check.Expected.Number("throughput_0_100"), figures.Finished);
        check.AssertNear(check.Expected.GetProperty("flow_efficiency_ratio_of_sums"), figures.FlowEfficiency.Value);
        check.AssertNear(
            check.Expected.GetProperty("flow_efficiency_mean_of_ratios"),
            releases.Values.Where(one => one.PublishedAt is not null).Average(one => TimeSplit.TryOf(one)!.Efficiency));
        foreach (var open in check.Expected.GetProperty("wip_at").EnumerateObject())
        {
            Assert.Equal(open.Value.GetInt32(), OpenAt(releases.Values, double.Parse(open.Name, null)));
        }
    }

    [Fact]
    public void Shares_of_time_are_those_of_work_and_of_waiting_and_make_a_whole()
    {
        var check = CheckCase.Find("statistics.json", "b.items.five_releases");

        var figures = FlowFigures.Of([.. Releases(check).Values], Hour(0), Hour(100), DateTimeZone.Utc);

        var record = figures.Stages.Single(stage => stage.Key == "record");
        Assert.Equal(19 / 140.0, record.WorkingShare.Value!.Value, 12);
        Assert.Equal(24 / 140.0, record.WaitingShare.Value!.Value, 12);
        Assert.Equal(1, figures.Stages.Sum(stage => stage.WorkingShare.Value + stage.WaitingShare.Value)!.Value, 12);
        Assert.Equal(
            figures.FlowEfficiency.Value!.Value, figures.Stages.Sum(stage => stage.WorkingShare.Value)!.Value, 12);
        Assert.InRange(
            figures.FlowEfficiency.Value.Value, figures.FlowEfficiency.Low!.Value, figures.FlowEfficiency.High!.Value);
    }

    [Fact]
    public void Blocked_time_is_waiting_within_the_stage_and_time_in_between_is_waiting_for_the_next()
    {
        var release = Release(Hour(0), Hour(99), Hour(20),
        [
            Stage("cut", StageRole.Making, Visit(1, 9, new Interval(Hour(3), Hour(5)))),
            Stage("mix", StageRole.Making, Visit(12, 15)),
            Stage("publish", StageRole.Publication, new StageVisit(null, Hour(20), [])),
            Stage("announce", StageRole.FollowUp, Visit(21, 30)),
        ]);

        var split = TimeSplit.TryOf(release)!;

        Assert.Equal([6, 3, 0, 0], split.Working.Select(days => Math.Round(days * 24, 9)));
        Assert.Equal([2, 3, 5, 0], split.Waiting.Select(days => Math.Round(days * 24, 9)));
    }

    [Fact]
    public void An_unknown_start_leaves_a_lead_and_no_cycle_and_is_counted()
    {
        var release = Release(Hour(0), Hour(99), Hour(48),
        [
            Stage("cut", StageRole.Making, new StageVisit(null, Hour(24), [])),
            Stage("mix", StageRole.Making, Visit(30, 40)),
            Stage("publish", StageRole.Publication, new StageVisit(null, Hour(48), [])),
        ]);

        var figures = FlowFigures.Of([release], Hour(0), Hour(99), DateTimeZone.Utc);

        Assert.Equal((1, 1, 1), (figures.Finished, figures.StartsUnknown, figures.Little.StartsUnknown));
        Assert.Equal(2, figures.Lead.At(50).Value);
        Assert.Equal(Lack.NothingCounted, figures.Cycle.At(50).Missing);
        Assert.Null(figures.FlowEfficiency.Value);
        Assert.Equal(1, figures.Little.MeanCycleDays);
        Assert.Equal((0, 1), (figures.Stages[0].Time.N, figures.Stages[0].StartsUnknown));
        Assert.Equal(0, figures.CycleWithOpen.N);
    }

    [Fact]
    public void An_empty_window_has_counts_of_nothing_and_reasons_for_the_rest()
    {
        var figures = FlowFigures.Of([], Hour(0), Hour(1), DateTimeZone.Utc);

        Assert.Equal(0, figures.ThroughputPerWeek.Value);
        Assert.Equal(Lack.Counted, figures.ThroughputPerWeek.LowMissing);
        Assert.Equal(Lack.NothingCounted, figures.FlowEfficiency.Missing);
        Assert.Equal(Lack.NothingCounted, figures.Lead.At(85).Missing);
        Assert.Empty(figures.Stages);
        Assert.Throws<ArgumentOutOfRangeException>(
            () => FlowFigures.Of([], Hour(1), Hour(1), DateTimeZone.Utc));
    }

    [Fact]
    public void What_was_dropped_is_followed_up_to_that_and_never_throughput()
    {
        var figures = FlowFigures.Of(
            [FromTo(0, null, dropped: 3, name: 1), FromTo(1, null, name: 2), FromTo(2, 6, name: 3)],
            Day(0), Day(10), DateTimeZone.Utc);

        Assert.Equal((1, 1), (figures.Finished, figures.Dropped));
        Assert.Equal((3, 1), (figures.CycleWithOpen.N, figures.CycleWithOpen.Steps.Count));
        Assert.Equal(2, figures.CycleWithOpen.Steps[0].AtRisk);
        Assert.Equal([9], figures.Open.Select(open => open.AgeDays));
    }

    private static Dictionary<string, ReleaseFacts> Releases(CheckCase check) => check.Inputs.GetProperty("items")
        .EnumerateObject()
        .Select((item, number) => (item.Name, Facts: FactsOf(item.Value, number, check.Inputs.Number("now"))))
        .ToDictionary(item => item.Name, item => item.Facts);

    private static ReleaseFacts FactsOf(JsonElement item, int number, double now)
    {
        var visits = item.GetProperty("visits").EnumerateArray()
            .Where(visit => visit[1].GetString() == "active")
            .ToLookup(visit => visit[0].GetString(), visit => Visit(visit[2].GetDouble(), visit[3].GetDouble()));
        return Release(
            Hour(item.Number("commit")), Hour(now),
            item.GetProperty("finish") is { ValueKind: JsonValueKind.Number } at ? Hour(at.GetDouble()) : null,
            [
                .. Order.Select(key => Stage(
                    key, key == "publish" ? StageRole.Publication : StageRole.Making, [.. visits[key]]) with
                {
                    IsSkipped = !visits[key].Any(),
                }),
            ],
            number);
    }

    private static void AssertRelease(CheckCase check, ReleaseFacts facts, JsonElement expected)
    {
        var split = TimeSplit.TryOf(facts)!;
        var now = facts.PublishedAt is null ? facts.AsOf : (Instant?)null;
        check.AssertNear(expected.GetProperty("lead"), (facts.PublishedAt - facts.PlannedAt)?.TotalHours);
        check.AssertNear(expected.GetProperty("cycle"), (facts.PublishedAt - facts.StartedAt)?.TotalHours);
        check.AssertNear(expected.GetProperty("age"), (now - facts.StartedAt)?.TotalHours);
        check.AssertNear(expected.GetProperty("active"), split.TotalWorking * 24);
        check.AssertNear(expected.GetProperty("wait"), split.TotalWaiting * 24);
        check.AssertNear(
            expected.GetProperty("flow_efficiency"), facts.PublishedAt is null ? null : split.Efficiency);
        check.AssertNear(expected.GetProperty("queue_before_start"), (facts.StartedAt - facts.PlannedAt)?.TotalHours);
    }

    // Just after the hour, as a beginning counts from its instant on.
    private static int OpenAt(IEnumerable<ReleaseFacts> releases, double hour) => LittlesLaw.Of(
        [.. releases], Hour(hour), Hour(hour) + Duration.FromTicks(1)).OpenAtEnd;
}
