using System.Diagnostics;
using System.Globalization;
using System.Net;

namespace Releasekit.Benchmarks.Crash;

/// <summary>The ways in which things break, all by SIGKILL; each ends with a service that answers again.</summary>
internal static class Breakages
{
    private const int EnoughInARow = 80;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(40);

    public static readonly Func<Place, Faults, Task>[] InTurn =
        [TheService, PostgresAlone, OneSessionOfPostgres, TheServiceAndPostgres];

    /// <summary>Whether a 503 says in the agreed words why.</summary>
    public static bool IsClear(string problem) =>
        problem.Contains("\"/docs/problems/unavailable\"", StringComparison.Ordinal)
        && problem.Contains("\"detail\":\"", StringComparison.Ordinal);

    private static async Task TheService(Place place, Faults faults)
    {
        place.Service.Kill();
        await StartAgain(place);
    }

    private static async Task TheServiceAndPostgres(Place place, Faults faults)
    {
        var postmaster = place.Service.Postmaster;
        place.Service.Kill();
        Kill(postmaster);
        await StartAgain(place);
    }

    /// <summary>The service is to end with one sentence, so that whoever started it starts it again.</summary>
    private static async Task PostgresAlone(Place place, Faults faults)
    {
        var service = place.Service;
        Kill(service.Postmaster);
        var watch = Stopwatch.StartNew();
        await Watch(service, faults);
        var took = watch.Elapsed.TotalSeconds;

        if (!service.HasEnded)
        {
            faults.Add($"PostgreSQL was killed alone, and {took:0} s later the service had not ended");
            service.Kill();
        }
        else if (service.ExitCode != 1 || !service.Complaints.Contains("PostgreSQL ended", StringComparison.Ordinal))
        {
            faults.Add($"PostgreSQL was killed alone, the service ended with {service.ExitCode}: {service.Complaints}");
        }

        Machine.Say($"PostgreSQL killed alone: {took:0.0} s later the service had ended, and is started again");
        await StartAgain(place);
    }

    /// <summary>PostgreSQL then ends all sessions and recovers by itself; the service must live through it.</summary>
    private static async Task OneSessionOfPostgres(Place place, Faults faults)
    {
        var service = place.Service;
        Kill(RunningService.ChildrenOf(service.Postmaster).First(IsSession));
        var lastRefusal = await Watch(service, faults);
        Machine.Say($"one session of PostgreSQL killed: the service was back after {lastRefusal.TotalSeconds:0.0} s");

        if (service.HasEnded || lastRefusal >= Patience)
        {
            faults.Add($"a session of PostgreSQL was killed, and the service did not recover: {service.Complaints}");
            service.Kill();
            await StartAgain(place);
        }
    }

    /// <summary>
    /// Asks until the service has ended, or has answered well often enough in a row; it may answer with 200 or with a
    /// clear 503 and with nothing else. How long after the beginning the last request failed.
    /// </summary>
    private static async Task<TimeSpan> Watch(RunningService service, Faults faults)
    {
        using var http = service.ConnectPlainly();
        var (watch, inARow, lastRefusal) = (Stopwatch.StartNew(), 0, TimeSpan.Zero);

        while (!service.HasEnded && inARow < EnoughInARow && watch.Elapsed < Patience)
        {
            foreach (var path in new[] { "/health/ready", "/v1/publisher" })
            {
                var isGood = await IsGood(http, path, faults);
                (inARow, lastRefusal) = isGood ? (inARow + 1, lastRefusal) : (0, watch.Elapsed);
            }

            await Task.Delay(25);
        }

        return inARow < EnoughInARow && !service.HasEnded ? Patience : lastRefusal;
    }

    private static async Task<bool> IsGood(HttpClient http, string path, Faults faults)
    {
        try
        {
            using var answer = await http.GetAsync(new Uri(path, UriKind.Relative));
            var text = await answer.Content.ReadAsStringAsync();

            if (answer.StatusCode is not HttpStatusCode.OK
                && !(answer.StatusCode is HttpStatusCode.ServiceUnavailable && IsClear(text)))
            {
                faults.Add($"GET {path} without a database was answered {(int)answer.StatusCode} {text}");
            }

            return answer.StatusCode is HttpStatusCode.OK;
        }
        catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
        {
            return false; // it is about to end
        }
    }

    private static async Task StartAgain(Place place)
    {
        var ended = place.Service;
        place.Service = await RunningService.Start(ended.Data);
        await ended.DisposeAsync();
    }

    private static bool IsSession(int id) =>
        File.ReadAllText($"/proc/{id}/cmdline").Contains("[local]", StringComparison.Ordinal);

    private static void Kill(int id) =>
        Process.Start("kill", ["-KILL", id.ToString(CultureInfo.InvariantCulture)]).WaitForExit();
}
