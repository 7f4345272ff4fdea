using System.Diagnostics;
using NodaTime.Text;
using Releasekit.Client.Releases;

namespace Releasekit.Benchmarks;

/// <summary>
/// What one more event costs when ten thousand are there, and when a million are: transitions of open releases by one
/// client, each with its event, its documents and its search entry in one transaction.
/// </summary>
internal static class GrowthBenchmark
{
    private const int Few = 1_100;
    private const int Many = 100_000;
    private const int Open = 250;
    private const int Turns = 3;

    public static async Task Run()
    {
        await using var service = await RunningService.Start();
        var client = await Workload.GivenASeries(service);
        await Workload.Import(client, Rows("few", Few));
        var few = await Transitions(client, "a");
        await Workload.Import(client, Rows("many", Many));
        var many = await Transitions(client, "b");

        Machine.Say(
            $"a transition with some 10,000 events there: {Machine.Spread(few, "0.00")} ms; with some "
            + $"{Many * (Workload.Stages.Length + 1) / 1e6:0.0} million: {Machine.Spread(many, "0.00")} ms   ratio "
            + $"{Median(many) / Median(few):0.00} (target at most 1.3)");
    }

    /// <summary>The mean of each turn, in milliseconds.</summary>
    private static async Task<List<double>> Transitions(Releasekit.Client.ReleasekitClient client, string name)
    {
        var times = new List<double>();

        for (var turn = 0; turn <= Turns; turn++)
        {
            var ids = new List<Guid>();

            for (var i = 0; i < Open; i++)
            {
                ids.Add((await client.Releases.Plan(new(Workload.Series, $"{name}{turn}-{i}"))).Content!.Id);
            }

            var watch = Stopwatch.StartNew();

            foreach (var id in ids)
            {
                foreach (var stage in Workload.Stages[..4])
                {
                    await client.Releases.Record(id, new(stage, StageState.Completed));
                }
            }

            times.Add(watch.Elapsed.TotalMilliseconds / (Open * 4));
        }

        return [.. times.Skip(1)];
    }

    /// <summary>Finished releases: nine events each.</summary>
    private static string Rows(string name, int count)
    {
        var head = string.Join(',', Workload.Stages.Select(stage => $"{stage}_completed_at"));
        var begin = Instant.FromUtc(2017, 1, 2, 9, 0);
        var lines = Enumerable.Range(0, count).Select(i =>
        {
            var times = Workload.Stages.Select((_, stage) => InstantPattern.General.Format(
                begin + Duration.FromMinutes((i * 10) + stage)));
            return $"{name}{i},{name} {i},{string.Join(',', times)}\n";
        });

        return $"external_id,title,{head}\n{string.Concat(lines)}";
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
