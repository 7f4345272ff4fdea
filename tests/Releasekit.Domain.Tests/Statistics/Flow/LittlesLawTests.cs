using System.Text.Json;
using CsCheck;
using Releasekit.Domain.Statistics.Flow;
using static Releasekit.Domain.Tests.Statistics.Flow.Made;

namespace Releasekit.Domain.Tests.Statistics.Flow;

public sealed class LittlesLawTests
{
    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "d.");

    /// <summary>Own numbers on Little 1961 and the sample-path form of it.</summary>
    [Theory]
    [MemberData(nameof(Cases))]
    public void The_gap_of_the_window_is_that_of_the_check(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var window = check.Inputs.Numbers("window");

        var law = LittlesLaw.Of(
            [.. check.Inputs.GetProperty("items").EnumerateArray().Select((item, name) => Item(item, name))],
            Day(window[0]), Day(window[1]));

        check.AssertNear(check.Expected.GetProperty("area"), law.WorkInProgress * (window[1] - window[0]));
        check.AssertNear(check.Expected.GetProperty("avg_wip"), law.WorkInProgress);
        check.AssertNear(check.Expected.GetProperty("throughput"), law.ThroughputPerDay);
        check.AssertNear(check.Expected.GetProperty("avg_cycle_time"), law.MeanCycleDays);
        check.AssertNear(
            check.Expected.GetProperty("throughput_x_cycle"), law.ThroughputPerDay * (law.MeanCycleDays ?? 0));
        check.AssertNear(check.Expected.GetProperty("gap"), law.Gap);
        check.AssertNear(check.Expected.GetProperty("gap_from_ages"), law.Carriers.Sum(carrier => carrier.Releases));
        check.AssertNear(check.Expected.GetProperty("residence_mean"), law.MeanDaysInside);
        Assert.Equal(
            (check.Expected.Number("wip_left"), check.Expected.Number("wip_right"),
                check.Expected.Number("arrivals"), check.Expected.Number("finished")),
            (law.OpenAtStart, law.OpenAtEnd, law.Begun, law.Finished));
    }

    [Fact]
    public void The_gap_is_what_its_carriers_bring_whatever_the_window() => Gen.Select(
        Gen.Select(Gen.Int[0, 40], Gen.Int[0, 30], Gen.Int[0, 2]).Array[0, 12], Gen.Int[0, 30], Gen.Int[1, 40])
        .Sample((items, from, length) =>
        {
            ReleaseFacts[] releases = [.. items.Select((item, name) => item.Item3 switch
            {
                0 => FromTo(item.Item1, item.Item1 + item.Item2, name: name),
                1 => FromTo(item.Item1, null, dropped: item.Item1 + item.Item2, name: name),
                _ => FromTo(item.Item1, null, name: name),
            })];

            var law = LittlesLaw.Of(releases, Day(from), Day(from + length));

            // H from the definition: the area under the number open, day by day, as all begin and end at midnight.
            var area = Enumerable.Range(from, length).Sum(day => releases.Count(
                one => one.BegunBy <= Day(day) && !(one.LeftAt <= Day(day))));
            Assert.Equal((double)area / length, law.WorkInProgress, 9);
            Assert.Equal(law.WorkInProgress - law.ThroughputPerDay * (law.MeanCycleDays ?? 0), law.Gap, 9);
            Assert.Equal(law.Gap, law.Carriers.Sum(carrier => carrier.Releases), 9);
            Assert.Equal(law.OpenAtStart + law.Begun, law.OpenAtEnd + law.Finished + law.Dropped);
        });

    [Fact]
    public void The_forgotten_release_is_named_first()
    {
        var law = LittlesLaw.Of([FromTo(0, null, name: 7), FromTo(8, null, name: 3)], Day(0), Day(10));

        Assert.Equal([7, 3], law.Carriers.Select(carrier => carrier.Release.ToByteArray()[0]));
        Assert.All(law.Carriers, carrier => Assert.True(carrier.IsOpenAtEnd));
    }

    private static ReleaseFacts Item(JsonElement item, int name) =>
        FromTo(item[0].GetDouble(), item[1].ValueKind is JsonValueKind.Null ? null : item[1].GetDouble(), name: name);
}
