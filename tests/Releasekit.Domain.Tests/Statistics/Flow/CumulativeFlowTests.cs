using System.Text.Json;
using CsCheck;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Tests.Statistics.Flow;

public sealed class CumulativeFlowTests
{
    private static readonly LocalDate Origin = new(2026, 1, 5);

    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "e.");

    /// <summary>Own numbers: definition from queueing practice, from memory; none is published.</summary>
    [Theory]
    [MemberData(nameof(Cases))]
    public void The_series_are_those_of_the_check(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var stages = check.Inputs.Strings("stages");
        var days = check.Inputs.Numbers("days");
        FlowPath[] paths = [.. check.Inputs.GetProperty("items").EnumerateObject().Select(item =>
            PathOf(item.Value, stages))];

        var flow = CumulativeFlow.Of(paths, stages, Origin, Origin.PlusDays((int)days[^1]));

        Assert.Equal(Table(check.Expected.GetProperty("ever")), flow.Reached);
        if (check.Expected.TryGetProperty("now", out var now))
        {
            Assert.Equal(Table(now), flow.Current);
            Assert.Equal(check.Expected.Numbers("abandoned").Select(count => (int)count), flow.Dropped);
        }

        if (check.Expected.TryGetProperty("area", out var area))
        {
            Assert.Equal(area.GetInt32(), flow.Reached[0].Sum() - flow.Reached[^1].Sum());
            Assert.Equal(
                check.Expected.Number("sum_date_difference"),
                paths.Sum(path => Period.DaysBetween(path.Entries[0].Day, path.Entries[^1].Day)));
        }
    }

    [Fact]
    public void Series_never_fall_and_never_cross_and_the_present_stages_add_up() =>
        Gen.Select(Gen.Select(Gen.Int[0, 12], Gen.Int[0, 3]).Array[0, 6], Gen.Int[-1, 14]).Array[0, 8].Sample(items =>
        {
            FlowPath[] paths = [.. items.Select(item => new FlowPath(
                [.. item.Item1.OrderBy(entry => entry.Item1).Select(e => (Origin.PlusDays(e.Item1), e.Item2))],
                item.Item2 < 12 ? null : Origin.PlusDays(item.Item2)))];

            var flow = CumulativeFlow.Of(paths, ["a", "b", "c", "d"], Origin.PlusDays(2), Origin.PlusDays(10));

            Assert.All(flow.Reached, series => Assert.Equal(series.Order(), series));
            Assert.All(flow.Reached.Zip(flow.Reached.Skip(1)), pair =>
                Assert.All(pair.First.Zip(pair.Second), count => Assert.True(count.First >= count.Second)));
            Assert.All(flow.Days.Index(), day => Assert.Equal(
                flow.Reached[0][day.Index], flow.Current.Sum(series => series[day.Index])));
        });

    [Fact]
    public void A_day_ends_at_local_midnight_and_a_stage_without_a_start_is_entered_when_it_is_done()
    {
        var tokyo = DateTimeZoneProviders.Tzdb["Asia/Tokyo"];
        var release = Made.Release(Made.Hour(0), Made.Hour(99), Made.Hour(40),
        [
            Made.Stage("cut", StageRole.Making, new StageVisit(null, Made.Hour(15), [])),
            Made.Stage("publish", StageRole.Publication, Made.Visit(39, 40)),
            Made.Stage("announce", StageRole.FollowUp, Made.Visit(41, 42)),
        ]);

        var path = FlowPath.Of(release, ["cut", "publish"], tokyo);

        // 15:00 and 40:00 UTC are midnight of the 6th and one in the night of the 7th in Tokyo.
        Assert.Equal([(new LocalDate(2026, 1, 6), 0), (new LocalDate(2026, 1, 7), 1)], path.Entries);
    }

    private static FlowPath PathOf(JsonElement item, string[] stages)
    {
        (LocalDate Day, string What)[] moves =
            [.. item.EnumerateArray().Select(move => (Origin.PlusDays(move[0].GetInt32()), move[1].GetString()!))];
        return new(
            [.. moves.Where(move => move.What != "ABANDONED").Select(m => (m.Day, Array.IndexOf(stages, m.What)))],
            moves.Where(move => move.What == "ABANDONED").Select(move => (LocalDate?)move.Day).SingleOrDefault());
    }

    private static int[][] Table(JsonElement table) =>
        [.. table.EnumerateArray().Select(row => row.EnumerateArray().Select(count => count.GetInt32()).ToArray())];
}
