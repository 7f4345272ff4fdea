using System.Diagnostics;
using NodaTime.Text;
using Releasekit.Client;
using Releasekit.Client.Plans;

namespace Releasekit.Benchmarks;

/// <summary>
/// What is learnt from ten years of five weekly series of nine stages, each with its start and its end: read from cold,
/// beside the plain reading of the same documents; then the same made anew from the events.
/// </summary>
internal static class LearningBenchmark
{
    private const int Series = 5;
    private const int Slots = 520;
    private const int Rounds = 15;

    private static readonly string[] Stages =
        ["outline", "record", "cut", "mix", "notes", "transcript", "publish", "announce", "letter"];

    public static async Task Run()
    {
        using var folder = new BenchFolder();
        var from = SystemNow().InUtc().Date.PlusWeeks(-Slots - 4);

        await using (var service = await RunningService.Start(folder.Path))
        {
            await Fill(service.Connect(), from);
        }

        var window = $"from={LocalDatePattern.Iso.Format(from.PlusWeeks(-4))}";
        var colds = new List<double>();
        var memories = new List<double>();

        foreach (var _ in Enumerable.Range(0, 3))
        {
            await using var service = await RunningService.Start(folder.Path);
            using var http = service.ConnectPlainly();
            await Took(http, "/health/ready");
            colds.Add(await Took(http, $"/v1/learning?{window}"));
            memories.Add(service.Memory().Service);
        }

        await using (var service = await RunningService.Start(folder.Path))
        {
            using var http = service.ConnectPlainly();
            var whole = await Again(http, $"/v1/learning?{window}");
            var flow = await Again(http, $"/v1/series/series-0/flow?{window}");
            var forecast = await Again(http, "/v1/series/series-0/forecast");
            var bank = await Again(http, "/v1/series/series-0/bank");
            Machine.Say(
                $"flow, chart and cadence of {Series} series of {Slots} releases in one request: first after a start "
                + $"{Machine.Spread(colds, "0")} ms (target 300), again {Machine.Spread(whole, "0")} ms");
            Machine.Say(
                $"one series: flow {Machine.Spread(flow, "0")} ms, forecast {Machine.Spread(forecast, "0")} ms, "
                + $"bank {Machine.Spread(bank, "0")} ms   memory after the first {Machine.Spread(memories, "0")} MiB");
        }

        await Rebuild(folder.Path);
    }

    /// <summary>The service says itself how many events it made all anew from, and in what time.</summary>
    private static async Task Rebuild(string folder)
    {
        foreach (var _ in Enumerable.Range(0, 3))
        {
            await using var service = await RunningService.Start(folder, flags: ["--rebuild"]);
            Machine.Say(service.Said.FirstOrDefault(line => line.StartsWith("rebuilt", StringComparison.Ordinal))
                ?? "the service did not say that it rebuilt anything");
        }
    }

    private static async Task Fill(ReleasekitClient client, LocalDate from)
    {
        await client.StagePlans.Create(
            new("nine", [.. Stages.Select(key => new PlannedStage(
                key, Publication: key == "publish", Effort: Duration.FromHours(1)))])).Value();

        foreach (var number in Enumerable.Range(0, Series))
        {
            var first = from.PlusDays(number);
            await client.Series.Open(new(
                $"series-{number}", $"Series {number}", "nine",
                new($"FREQ=WEEKLY;BYDAY={first.DayOfWeek.ToString()[..2].ToUpperInvariant()}", new(7, 0),
                    "Europe/Lisbon", first))).Value();
            await Workload.Import(client, Rows(number, first), $"series-{number}");
        }
    }

    /// <summary>Starts and ends of every stage over some nine days, never twice the same, published near the
    /// slot.</summary>
    private static string Rows(int series, LocalDate first)
    {
        var zone = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
        var random = new Random(series);
        var head = string.Join(
            ',', Stages.SelectMany(stage => new[] { $"{stage}_started_at", $"{stage}_completed_at" }));
        var lines = Enumerable.Range(0, Slots).Select(i =>
        {
            var slot = first.PlusWeeks(i);
            var clock = slot.At(new(7, 0)).InZoneLeniently(zone).ToInstant()
                - Duration.FromDays(8 + random.NextDouble());
            var times = Stages.SelectMany(_ => new[] { Later(10), Later(26) }).ToArray();
            var date = LocalDatePattern.Iso.Format(slot);
            return $"s{series}-{date},Series {series} of {date},{date},{string.Join(',', times)}\n";

            string Later(double hours)
            {
                clock += Duration.FromHours(random.NextDouble() * hours);
                return InstantPattern.General.Format(clock);
            }
        });

        return $"external_id,title,slot_date,{head}\n{string.Concat(lines)}";
    }

    private static async Task<List<double>> Again(HttpClient http, string path)
    {
        await Took(http, path);
        var took = new List<double>();

        foreach (var _ in Enumerable.Range(0, Rounds))
        {
            took.Add(await Took(http, path));
        }

        return took;
    }

    private static async Task<double> Took(HttpClient http, string path)
    {
        var watch = Stopwatch.StartNew();
        using var answer = await http.GetAsync(new Uri(path, UriKind.Relative));
        await answer.Content.ReadAsByteArrayAsync();
        answer.EnsureSuccessStatusCode();

        return watch.Elapsed.TotalMilliseconds;
    }

    private static Instant SystemNow() => Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
}
