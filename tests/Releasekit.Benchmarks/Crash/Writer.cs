using System.Collections.Concurrent;
using System.Net;
using System.Text;

namespace Releasekit.Benchmarks.Crash;

/// <summary>
/// Sends each transition until it is acknowledged, always with the key it was first sent with, as a careful script
/// does. A key whose request was cut off is taken for running for two minutes; its release is set aside meanwhile.
/// </summary>
internal sealed class Writer(Place place, Guid[] releases, Faults faults)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(180);

    private static readonly (string Stage, string To)[] Steps =
    [
        .. from stage in Workload.Stages
           from to in new[] { "started", "completed" }
           select (stage, to),
    ];

    private readonly List<(Guid Release, int Step)> _aside = [];

    private enum Answer
    {
        Acknowledged,

        Running,

        /// <summary>None, or 503: it may have been recorded or not.</summary>
        Unsure,

        Refused,
    }

    /// <summary>Notes of the transitions that were answered with 200.</summary>
    public ConcurrentQueue<string> Acknowledged { get; } = [];

    /// <summary>The releases it has begun to work on.</summary>
    public List<Guid> Touched { get; } = [];

    /// <summary>Whether it has no release left.</summary>
    public bool IsDry { get; private set; }

    public async Task Write(CancellationToken stop)
    {
        using var http = new HttpClient(
            new SocketsHttpHandler { UseProxy = false })
        { Timeout = TimeSpan.FromSeconds(10) };

        foreach (var release in releases.TakeWhile(_ => !stop.IsCancellationRequested))
        {
            Touched.Add(release);
            await Work(http, release, stop);
        }

        IsDry = !stop.IsCancellationRequested;
        await SendWhatIsAside(http);
    }

    private async Task Work(HttpClient http, Guid release, CancellationToken stop)
    {
        for (var step = 0; step < Steps.Length && !stop.IsCancellationRequested; step++)
        {
            switch (await SendUntilSure(http, release, step))
            {
                case Answer.Running:
                    _aside.Add((release, step));
                    return;
                case Answer.Refused:
                    return;
            }
        }
    }

    /// <summary>At the end nothing is left unsure: so the histories must hold the acknowledged, and no more.</summary>
    private async Task SendWhatIsAside(HttpClient http)
    {
        var until = TimeProvider.System.GetUtcNow() + Patience;

        foreach (var (release, step) in _aside)
        {
            while (await SendUntilSure(http, release, step) is Answer.Running)
            {
                if (TimeProvider.System.GetUtcNow() > until)
                {
                    faults.Add($"{Note(release, step)} was still running after {Patience.TotalSeconds} s");
                    break;
                }

                await Task.Delay(1_000, CancellationToken.None);
            }
        }
    }

    private async Task<Answer> SendUntilSure(HttpClient http, Guid release, int step)
    {
        for (var until = TimeProvider.System.GetUtcNow() + Patience; ;)
        {
            var answer = await Send(http, release, step);

            if (answer is Answer.Acknowledged)
            {
                Acknowledged.Enqueue(Note(release, step));
            }

            if (answer is not Answer.Unsure)
            {
                return answer;
            }

            if (TimeProvider.System.GetUtcNow() > until)
            {
                faults.Add($"{Note(release, step)} was not answered in {Patience.TotalSeconds} s");
                return Answer.Refused;
            }

            await Task.Delay(30, CancellationToken.None);
        }
    }

    private async Task<Answer> Send(HttpClient http, Guid release, int step)
    {
        var (service, (stage, to), note) = (place.Service, Steps[step], Note(release, step));
        using var request = new HttpRequestMessage(
            HttpMethod.Post, $"{service.Address}/v1/releases/{release}/transitions")
        {
            Content = new StringContent(
                $"{{\"stage\":\"{stage}\",\"to\":\"{to}\",\"note\":\"{note}\"}}", Encoding.UTF8, "application/json"),
            Headers = { { "Authorization", $"Bearer {service.Token}" }, { "Idempotency-Key", note } },
        };

        try
        {
            using var answer = await http.SendAsync(request);
            var text = await answer.Content.ReadAsStringAsync();

            switch (answer.StatusCode)
            {
                case HttpStatusCode.OK:
                    return Answer.Acknowledged;
                case HttpStatusCode.Conflict when text.Contains("idempotency.running", StringComparison.Ordinal):
                    return Answer.Running;
                case HttpStatusCode.ServiceUnavailable when Breakages.IsClear(text):
                    return Answer.Unsure;
                default:
                    faults.Add($"{note} was answered {(int)answer.StatusCode} {text}");
                    return answer.StatusCode >= HttpStatusCode.InternalServerError ? Answer.Unsure : Answer.Refused;
            }
        }
        catch (Exception e) when (e is HttpRequestException or TaskCanceledException)
        {
            return Answer.Unsure;
        }
    }

    private static string Note(Guid release, int step) => $"{release:N}-{Steps[step].Stage}-{Steps[step].To}";
}
