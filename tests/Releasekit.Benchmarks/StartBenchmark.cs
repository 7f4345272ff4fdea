using System.Diagnostics;
using System.Net;

namespace Releasekit.Benchmarks;

/// <summary>
/// From the call to the first good answer of a request that reads the database, first and again, of the service alone
/// and by <c>ops/run</c> as people start it; and what the service needs at rest.
/// </summary>
internal static class StartBenchmark
{
    private const int Rounds = 5;

    public static async Task Run()
    {
        using var folder = new BenchFolder();
        var first = await Time(folder, RunningService.Named("RELEASEKIT_RUN"));
        Machine.Say($"ops/run, first start, database made, built where it was not: {first.Start:0.00} s");

        foreach (var (name, command) in new[]
        {
            ("ops/run, nothing to build", RunningService.Named("RELEASEKIT_RUN")), ("the service alone", null),
        })
        {
            var (starts, stops) = (new List<double>(), new List<double>());

            for (var i = 0; i < Rounds; i++)
            {
                var (start, stop) = await Time(folder, command);
                starts.Add(start);
                stops.Add(stop);
            }

            Machine.Say($"{name}, to the first good answer: {Machine.Spread(starts, "0.00")} s (target under 5); "
                + $"stop: {Machine.Spread(stops, "0.00")} s");
        }

        await using var service = await RunningService.Start(folder.Path);
        await Task.Delay(TimeSpan.FromSeconds(5));
        var (own, database) = service.Memory();
        Machine.Say($"memory at rest: service {own:0} MiB, PostgreSQL {database:0} MiB (its own pages)");
    }

    private static async Task<(double Start, double Stop)> Time(BenchFolder folder, string? command)
    {
        var watch = Stopwatch.StartNew();
        await using var service = await RunningService.Start(folder.Path, command);
        using var http = service.ConnectPlainly();
        using var answer = await http.GetAsync(new Uri("/v1/publisher", UriKind.Relative));
        var start = watch.Elapsed.TotalSeconds;

        if (answer.StatusCode is not HttpStatusCode.OK)
        {
            throw new InvalidOperationException($"The first request was answered {answer.StatusCode}.");
        }

        watch.Restart();
        await service.DisposeAsync();

        return (start, watch.Elapsed.TotalSeconds);
    }
}
