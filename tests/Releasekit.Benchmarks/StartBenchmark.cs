using System.Diagnostics;

namespace Releasekit.Benchmarks;

/// <summary>How long a start takes until it answers, first and again, and what the service needs at rest.</summary>
internal static class StartBenchmark
{
    private const int Rounds = 5;

    public static async Task Run()
    {
        var folder = RunningService.NewFolder();
        var watch = Stopwatch.StartNew();
        await using (var first = await RunningService.Start(folder))
        {
            Machine.Say($"first start, database made: {watch.Elapsed.TotalSeconds:0.00} s");
        }

        var starts = new List<double>();
        var stops = new List<double>();

        for (var i = 0; i < Rounds; i++)
        {
            watch.Restart();
            var service = await RunningService.Start(folder);
            starts.Add(watch.Elapsed.TotalSeconds);

            if (i == Rounds - 1)
            {
                await Task.Delay(TimeSpan.FromSeconds(5));
                var (own, database) = service.Memory();
                Machine.Say($"memory at rest: service {own:0} MiB, PostgreSQL {database:0} MiB (its own pages)");
            }

            watch.Restart();
            await service.DisposeAsync();
            stops.Add(watch.Elapsed.TotalSeconds);
        }

        Machine.Say(
            $"start again to the first answer: {Machine.Median(starts):0.00} s (target under 5); "
            + $"stop: {Machine.Median(stops):0.00} s");
    }
}
