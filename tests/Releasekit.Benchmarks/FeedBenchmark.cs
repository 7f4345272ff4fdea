using System.Diagnostics;
using System.Net;
using Releasekit.Client;

namespace Releasekit.Benchmarks;

/// <summary>A calendar feed of 500 releases: the first fetch, and one that has not changed.</summary>
internal static class FeedBenchmark
{
    private const int Releases = 500;
    private const int Rounds = 40;

    public static async Task Run()
    {
        await using var service = await RunningService.Start();
        var client = await Workload.GivenASeries(service);
        var rows = Enumerable.Range(0, Releases).Select(i => $"f{i},Release {i},{Published(i)}\n");
        await Workload.Import(client, $"external_id,title,published_at\n{string.Concat(rows)}");
        var feed = await client.Feeds.Create(new("bench")).Value();
        using var http = service.ConnectPlainly();

        var cold = Stopwatch.StartNew();
        using var first = await http.GetAsync(feed.Url);
        var bytes = (await first.Content.ReadAsByteArrayAsync()).Length;
        var coldMs = cold.Elapsed.TotalMilliseconds;
        var whole = await Times(http, feed.Url, null, HttpStatusCode.OK);
        var unchanged = await Times(http, feed.Url, first.Headers.ETag!.ToString(), HttpStatusCode.NotModified);
        var bare = await Times(http, new Uri($"{service.Address}/health/live"), null, HttpStatusCode.OK);

        Machine.Say(
            $"feed of {Releases} releases ({bytes / 1024} KiB): first {coldMs:0.0} ms, "
            + $"again {Machine.Spread(whole, "0.0")} ms, unchanged (304) {Machine.Spread(unchanged, "0.0")} ms   "
            + $"a bare answer: {Machine.Spread(bare, "0.00")} ms");
    }

    private static Instant Published(int i) => SystemNow() - Duration.FromHours(1 + (i * 12));

    private static Instant SystemNow() => Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());

    private static async Task<List<double>> Times(
        HttpClient http, Uri url, string? ifNoneMatch, HttpStatusCode expected)
    {
        var times = new List<double>();

        for (var i = 0; i < Rounds; i++)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, url);

            if (ifNoneMatch is not null)
            {
                request.Headers.TryAddWithoutValidation("If-None-Match", ifNoneMatch);
            }

            var watch = Stopwatch.StartNew();
            using var answer = await http.SendAsync(request);
            await answer.Content.ReadAsByteArrayAsync();
            times.Add(watch.Elapsed.TotalMilliseconds);

            if (answer.StatusCode != expected)
            {
                throw new InvalidOperationException($"{answer.StatusCode}");
            }
        }

        return times;
    }
}
