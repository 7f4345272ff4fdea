using System.Diagnostics;

namespace Releasekit.Benchmarks.Crash;

/// <summary>
/// Breaks the service and its database in turn during a stream of transitions, brings both back on the same data, and
/// at the end compares what was acknowledged with the histories, and the histories with the releases.
/// </summary>
internal sealed class CrashRun : IDisposable
{
    private const int Writers = 4;
    private const int ReleasesPerWriter = 1_000;

    private readonly BenchFolder _folder = new();
    private readonly Faults _faults = new();
    private readonly Random _random = new(20261125);

    public static async Task<int> Run(int kills)
    {
        using var run = new CrashRun();
        await run.Break(kills);

        return run._faults.Tell();
    }

    public void Dispose() => _folder.Dispose();

    private async Task Break(int kills)
    {
        var place = new Place(await RunningService.Start(_folder.Path));

        try
        {
            var ids = await Workload.Releases(
                await Workload.GivenASeries(place.Service), Writers * ReleasesPerWriter);
            using var stop = new CancellationTokenSource();
            var writers = ids.Chunk(ReleasesPerWriter).Select(some => new Writer(place, some, _faults)).ToArray();
            var writing = Task.WhenAll(writers.Select(writer => writer.Write(stop.Token)));

            for (var kill = 0; kill < kills && await IsBusy(writers, kill); kill++)
            {
                await Breakages.InTurn[kill % Breakages.InTurn.Length](place, _faults);
            }

            await stop.CancelAsync();
            var watch = Stopwatch.StartNew();
            await writing;
            Machine.Say(
                $"the last answers took {watch.Elapsed.TotalSeconds:0} s; a key that was cut off takes two minutes");
            Machine.Say(await Verdict.Of(place.Service, writers, _faults));
        }
        finally
        {
            await place.Service.DisposeAsync();
        }
    }

    /// <summary>
    /// Waits a while; whether every writer had work then, and transitions were acknowledged meanwhile: a kill beside
    /// the stream proves nothing.
    /// </summary>
    private async Task<bool> IsBusy(Writer[] writers, int kill)
    {
        var before = writers.Sum(writer => writer.Acknowledged.Count);
        await Task.Delay(_random.Next(300, 2_000));

        for (var i = 0; i < 200 && writers.Sum(writer => writer.Acknowledged.Count) < before + Writers; i++)
        {
            await Task.Delay(50);
        }

        var isFlowing = writers.Sum(writer => writer.Acknowledged.Count) >= before + Writers;

        if (!isFlowing || writers.Any(writer => writer.IsDry))
        {
            _faults.Add($"before kill {kill + 1} the stream of transitions had run dry");
            return false;
        }

        return true;
    }
}

/// <summary>Where the service is right now: it comes back on another port.</summary>
internal sealed class Place(RunningService service)
{
    public volatile RunningService Service = service;
}
