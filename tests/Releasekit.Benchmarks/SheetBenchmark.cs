using System.Diagnostics;
using System.Net;
using NodaTime.Text;
using Releasekit.Client;
using Releasekit.Client.Plans;

namespace Releasekit.Benchmarks;

/// <summary>
/// The sheets of a publisher with ten years of five weekly series behind it, as somebody sees them who is signed in:
/// pages with all their forms, by real HTTP, beside an answer without any work.
/// </summary>
internal static class SheetBenchmark
{
    private const int Series = 5;
    private const int Slots = 522;
    private const int Ahead = 8;
    private const int Rounds = 60;

    /// <summary>Until the runtime has compiled for good what is asked for again and again.</summary>
    private const int WarmUp = 150;

    private static readonly string[] Stages =
        ["outline", "record", "cut", "mix", "notes", "transcript", "publish", "announce", "letter"];

    public static async Task Run()
    {
        await using var service = await RunningService.Start();
        var client = service.Connect();
        var today = SystemNow().InUtc().Date;
        await Fill(client, today);

        using var signedIn = await SignIn(service);
        using var script = service.ConnectPlainly();
        var month = today.ToString("uuuu-MM", null);
        var bare = await Times(script, "/health/live", "application/json");

        foreach (var path in new[] { "/month", "/week", "/year" })
        {
            var pages = await Times(signedIn, path, "text/html");
            Machine.Say(
                $"page {path}, {Series} series of {Slots} releases ({pages.Bytes / 1024} KiB): "
                + $"first {pages.First:0} ms, then {Machine.Spread(pages.Took, "0.0")} ms"
                + $"{(path == "/month" ? " (target 30)" : "")}   "
                + $"a bare answer: {Machine.Spread(bare.Took, "0.00")} ms");
        }

        var data = await Times(script, $"/v1/sheets/month/{month}", "application/json");
        Machine.Say($"the month as data ({data.Bytes / 1024} KiB): {Machine.Spread(data.Took, "0.0")} ms");
    }

    private static async Task Fill(ReleasekitClient client, LocalDate today)
    {
        await client.StagePlans.Create(
            new("nine", [.. Stages.Select(key => new PlannedStage(
                key, Publication: key == "publish", Effort: Duration.FromHours(1)))])).Value();

        foreach (var number in Enumerable.Range(0, Series))
        {
            var first = today.PlusWeeks(-Slots + Ahead).PlusDays(number % 5);
            await client.Series.Open(new(
                $"series-{number}", $"Series {number}", "nine",
                new($"FREQ=WEEKLY;BYDAY={first.DayOfWeek.ToString()[..2].ToUpperInvariant()}", new(7, 0),
                    "Europe/Lisbon", first))).Value();
            var dates = Enumerable.Range(0, Slots).Select(i => first.PlusWeeks(i)).ToArray();
            var (past, coming) = (dates.Where(date => date < today), dates.Where(date => date > today));
            await Workload.Import(client, Rows(number, past, isDone: true), $"series-{number}");
            await Workload.Import(client, Rows(number, coming, isDone: false), $"series-{number}");
        }
    }

    /// <summary>A line for each slot; of those that are done every stage, publication at the slot.</summary>
    private static string Rows(int series, IEnumerable<LocalDate> slots, bool isDone)
    {
        var zone = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
        var head = isDone ? $",{string.Join(',', Stages.Select(stage => $"{stage}_completed_at"))}" : "";
        var lines = slots.Select(slot =>
        {
            var at = slot.At(new(7, 0)).InZoneLeniently(zone).ToInstant();
            var times = Stages.Select((_, i) => InstantPattern.General.Format(at + Duration.FromHours(2 * (i - 6))));
            var date = LocalDatePattern.Iso.Format(slot);
            var done = isDone ? $",{string.Join(',', times)}" : "";
            return $"s{series}-{date},Series {series} of {date},{date}{done}\n";
        });

        return $"external_id,title,slot_date{head}\n{string.Concat(lines)}";
    }

    private static async Task<HttpClient> SignIn(RunningService service)
    {
        var http = new HttpClient(new SocketsHttpHandler { UseProxy = false, CookieContainer = new CookieContainer() })
        {
            BaseAddress = new Uri(service.Address),
        };
        using var form = new FormUrlEncodedContent([new("token", service.Token)]);
        using var answer = await http.PostAsync(new Uri("/sign-in", UriKind.Relative), form);
        answer.EnsureSuccessStatusCode();

        return http;
    }

    private static async Task<(double First, List<double> Took, int Bytes)> Times(
        HttpClient http, string path, string accept)
    {
        var took = new List<double>();
        var bytes = 0;

        for (var round = 0; round <= WarmUp + Rounds; round++)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, path);
            request.Headers.Accept.ParseAdd(accept);
            var watch = Stopwatch.StartNew();
            using var answer = await http.SendAsync(request);
            bytes = (await answer.Content.ReadAsByteArrayAsync()).Length;
            took.Add(watch.Elapsed.TotalMilliseconds);
            answer.EnsureSuccessStatusCode();
        }

        return (took[0], [.. took.Skip(WarmUp + 1)], bytes);
    }

    private static Instant SystemNow() => Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
}
