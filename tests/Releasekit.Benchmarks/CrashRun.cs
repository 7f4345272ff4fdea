using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Text;
using Releasekit.Client;

namespace Releasekit.Benchmarks;

/// <summary>
/// Kills the service with SIGKILL during a stream of transitions, every fourth time its database too, starts it again
/// on the
/// same data, and at the end looks for every acknowledged transition in the histories: there, and none twice.
/// </summary>
internal static class CrashRun
{
    private const int Writers = 4;
    private const int ReleasesPerWriter = 600;

    public static async Task<int> Run(int kills)
    {
        var folder = RunningService.NewFolder();
        var service = await RunningService.Start(folder);
        var ids = await Workload.Releases(await Workload.GivenASeries(service), Writers * ReleasesPerWriter);
        var address = new AddressOfNow(service);
        var acknowledged = new ConcurrentBag<string>();
        using var stop = new CancellationTokenSource();
        var writers = Enumerable.Range(0, Writers).Select(i => Write(
            address, [.. ids.Skip(i * ReleasesPerWriter).Take(ReleasesPerWriter)], acknowledged, stop.Token)).ToArray();
        var random = new Random(20261125);

        for (var kill = 1; kill <= kills; kill++)
        {
            await Task.Delay(random.Next(300, 2_000));
            var postmaster = int.Parse(
                (await File.ReadAllLinesAsync(Path.Combine(folder, "postgres", "postmaster.pid")))[0],
                System.Globalization.CultureInfo.InvariantCulture);
            service.Kill();

            if (kill % 4 == 0)
            {
                Process.Start("kill", ["-KILL", $"{postmaster}"]).WaitForExit();
            }

            service = await RunningService.Start(folder);
            address.Service = service;
        }

        await Task.Delay(500);
        await stop.CancelAsync();
        await Task.WhenAll(writers);
        var faults = await Faults(service, ids, acknowledged);
        await service.DisposeAsync();
        Machine.Say(
            $"{kills} kills, {acknowledged.Count} acknowledged transitions: {faults.Lost} lost, {faults.Twice} twice, "
            + $"{faults.Gaps} histories with a gap");

        return faults is (0, 0, 0) && !acknowledged.IsEmpty ? 0 : 1;
    }

    /// <summary>Sends each transition until it is acknowledged, with the same key, as a careful script does.</summary>
    private static async Task Write(
        AddressOfNow address, Guid[] ids, ConcurrentBag<string> acknowledged, CancellationToken stop)
    {
        using var http = new HttpClient(
            new SocketsHttpHandler { UseProxy = false })
        { Timeout = TimeSpan.FromSeconds(10) };

        foreach (
            var (
                release, stage, to) in from id in ids
                                       from stage in Workload.Stages
                                       from to in new[] { "started",
                "completed" }
                                       select (id, stage, to))
        {
            var key = $"{release:N}-{stage}-{to}";

            while (!await Send(http, address.Service, release, stage, to, key))
            {
                if (stop.IsCancellationRequested)
                {
                    return;
                }

                await Task.Delay(30, CancellationToken.None);
            }

            acknowledged.Add(key);

            if (stop.IsCancellationRequested)
            {
                return;
            }
        }
    }

    private static async Task<bool> Send(
        HttpClient http, RunningService service, Guid release, string stage, string to, string key)
    {
        using var request = new HttpRequestMessage(
            HttpMethod.Post, $"{service.Address}/v1/releases/{release}/transitions")
        {
            Content = new StringContent(
                $"{{\"stage\":\"{stage}\",\"to\":\"{to}\",\"note\":\"{key}\"}}", Encoding.UTF8, "application/json"),
            Headers = { { "Authorization", $"Bearer {service.Token}" }, { "Idempotency-Key", key } },
        };

        try
        {
            using var answer = await http.SendAsync(request);

            // A key whose first request was cut off is free again after two minutes; the transition itself may be
            // repeated.
            if (answer.StatusCode is HttpStatusCode.Conflict)
            {
                request.Headers.Remove("Idempotency-Key");
                using var again = new HttpRequestMessage(HttpMethod.Post, request.RequestUri)
                {
                    Content = new StringContent(
                        $"{{\"stage\":\"{stage}\",\"to\":\"{to}\",\"note\":\"{key}\"}}", Encoding.UTF8,
                        "application/json"),
                    Headers = { { "Authorization", $"Bearer {service.Token}" } },
                };
                using var repeated = await http.SendAsync(again);
                return repeated.StatusCode is HttpStatusCode.OK;
            }

            return answer.StatusCode is HttpStatusCode.OK;
        }
        catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
        {
            return false;
        }
    }

    private static async Task<(int Lost, int Twice, int Gaps)> Faults(
        RunningService service, List<Guid> ids, ConcurrentBag<string> acknowledged)
    {
        var client = service.Connect();
        var found = new List<string>();
        var gaps = 0;

        foreach (var id in ids)
        {
            var history = await client.Releases.History(id, limit: 200).Value();
            found.AddRange(history.Items
                .Where(entry => entry.Details.TryGetValue("note", out var note)
                    && note.ValueKind is System.Text.Json.JsonValueKind.String)
                .Select(entry => entry.Details["note"].GetString()!));
            gaps += history.Items.Select((entry, i) => entry.Sequence - i).All(difference => difference == 1) ? 0 : 1;
        }

        var times = found.GroupBy(key => key).ToDictionary(group => group.Key, group => group.Count());

        return (acknowledged.Count(key => !times.ContainsKey(key)), times.Values.Count(count => count > 1), gaps);
    }

    /// <summary>Where the service is right now: it comes back on another port.</summary>
    private sealed class AddressOfNow(RunningService service)
    {
        public volatile RunningService Service = service;
    }
}
