using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;

namespace Releasekit.Benchmarks;

/// <summary>
/// Acknowledged transitions a second, by real HTTP on a real service, beside single-row inserts by pgbench on the same
/// server; rounds interleaved, ratios paired.
/// </summary>
internal static partial class TransitionBenchmark
{
    private const int Rounds = 5;
    private const int Seconds = 3;

    /// <summary>Of 16 transitions each: three times as many as a run of today uses up.</summary>
    private const int Releases = 12_000;

    /// <summary>
    /// A row like an event: an id, a name, some 110 bytes of JSON. No colon may touch a letter: pgbench would read a
    /// variable.
    /// </summary>
    private const string Insert = """
        insert into insert_here (id, name, data) values (gen_random_uuid(), 'release.stage_completed',
        '{"stage": "outline", "note": null, "outOfOrder": false, "publication": false, "at": "2026-11-25"}');
        """;

    /// <summary>Every one a real change: each stage of a release is started, then completed.</summary>
    private static readonly string[] Steps =
    [
        .. from stage in Workload.Stages
           from to in new[] { "started", "completed" }
           select $"{{\"stage\":\"{stage}\",\"to\":\"{to}\"}}",
    ];

    public static async Task Run()
    {
        await using var service = await RunningService.Start();
        var client = await Workload.GivenASeries(service);
        var work = new ConcurrentQueue<Guid>(await Workload.Releases(client, Releases));
        await Pgbench(
            service, "create table insert_here (n bigserial primary key, id uuid, name text, data jsonb);", 1, 1);

        foreach (var clients in new[] { 1, 8 })
        {
            await Transitions(service, work, clients);
            var (ours, theirs) = (new List<double>(), new List<double>());

            var (before, busy) = ((Service: 0.0, Database: 0.0), (Service: 0.0, Database: 0.0));

            for (var round = 0; round < Rounds; round++)
            {
                theirs.Add(await Pgbench(service, Insert, clients, Seconds));
                before = service.ProcessorSeconds();
                ours.Add(await Transitions(service, work, clients));
                var after = service.ProcessorSeconds();
                busy.Service += (after.Service - before.Service) / (Rounds * Seconds);
                busy.Database += (after.Database - before.Database) / (Rounds * Seconds);
            }

            double[] ratios = [.. ours.Zip(theirs, (one, other) => one / other)];
            Machine.Say(
                $"transitions, {clients} client{(clients == 1 ? " " : "s")}: {Machine.Spread(ours, "0")} /s   "
                + $"pgbench single-row insert: {Machine.Spread(theirs, "0")} /s   "
                + $"ratio {Machine.Spread(ratios, "0.00")} (target {(clients == 1 ? 0.5 : 1.0):0.0}); "
                + $"meanwhile busy, of {Environment.ProcessorCount} cores: "
                + $"service {busy.Service:0.00}, PostgreSQL {busy.Database:0.00}");
        }

        Machine.Say($"of {Releases} prepared releases {work.Count} were not needed");
    }

    private static async Task<double> Transitions(
        RunningService service, ConcurrentQueue<Guid> work, int clients)
    {
        using var http = service.ConnectPlainly();
        var watch = Stopwatch.StartNew();
        var done = 0;

        await Task.WhenAll(Enumerable.Range(0, clients).Select(async _ =>
        {
            while (watch.Elapsed.TotalSeconds < Seconds)
            {
                if (!work.TryDequeue(out var release))
                {
                    throw new InvalidOperationException(
                        $"The {Releases} prepared releases ran out, and the figure would be wrong: prepare more.");
                }

                foreach (var step in Steps.TakeWhile(_ => watch.Elapsed.TotalSeconds < Seconds))
                {
                    using var body = new StringContent(step, Encoding.UTF8, "application/json");
                    using var answer = await http.PostAsync(
                        new Uri($"/v1/releases/{release}/transitions", UriKind.Relative), body);

                    if (answer.StatusCode is not HttpStatusCode.OK)
                    {
                        throw new InvalidOperationException(
                            $"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync()}");
                    }

                    Interlocked.Increment(ref done);
                }
            }
        }));

        return done / watch.Elapsed.TotalSeconds;
    }

    private static async Task<double> Pgbench(RunningService service, string sql, int clients, int seconds)
    {
        var script = Path.GetTempFileName();
        await File.WriteAllTextAsync(script, sql);
        var text = clients.ToString(CultureInfo.InvariantCulture);
        string[] limit = sql.StartsWith("create", StringComparison.Ordinal)
            ? ["-t", "1"]
            : ["-T", seconds.ToString(CultureInfo.InvariantCulture)];
        var start = new ProcessStartInfo(
            RunningService.Named("PGBENCH"),
            ["-n", "-M", "prepared", "-c", text, "-j", clients == 1 ? "1" : "2", .. limit, "-f", script,
                "-h", service.Socket, "releasekit"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };

        try
        {
            using var process = Process.Start(start)!;
            var said = await process.StandardOutput.ReadToEndAsync();
            await process.WaitForExitAsync();

            return Tps().Match(said) is { Success: true } match
                ? double.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture)
                : throw new InvalidOperationException(await process.StandardError.ReadToEndAsync());
        }
        finally
        {
            File.Delete(script);
        }
    }

    [GeneratedRegex(@"tps = ([\d.]+)")]
    private static partial Regex Tps();
}
