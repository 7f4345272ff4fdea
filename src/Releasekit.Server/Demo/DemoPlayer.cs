using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.RegularExpressions;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Demo;

/// <summary>
/// Carries the story out through the service's own HTTP API, the clock standing at the time of each deed.
/// </summary>
internal sealed partial class DemoPlayer(string address, string token, ServiceClock clock) : IDisposable
{
    private readonly Dictionary<string, string> _known = [];

    // Straight to ourselves: a proxy named in the environment answers for others, not for this machine.
    private readonly HttpClient _http = new(new SocketsHttpHandler { UseProxy = false })
    {
        BaseAddress = new Uri(address),
        DefaultRequestHeaders = { Authorization = new AuthenticationHeaderValue("Bearer", token) },
    };

    public async Task Play(IEnumerable<Deed> deeds, CancellationToken cancel)
    {
        foreach (var deed in deeds)
        {
            clock.StandAt(deed.At);
            await Do(deed, cancel);
        }
    }

    public void Dispose() => _http.Dispose();

    private async Task Do(Deed deed, CancellationToken cancel)
    {
        using var request = new HttpRequestMessage(deed.Method, Filled(deed.Path))
        {
            Content = deed.Body is null ? null : JsonContent.Create(deed.Body, options: ApiJson.Options),
        };

        if (deed.Changes)
        {
            using var read = await _http.GetAsync(new Uri(Filled(deed.Tag ?? deed.Path), UriKind.Relative), cancel);
            request.Headers.IfMatch.Add(read.Headers.ETag!);
        }

        using var answer = await _http.SendAsync(request, cancel);
        var text = await answer.Content.ReadAsStringAsync(cancel);

        if (!answer.IsSuccessStatusCode)
        {
            throw new InvalidOperationException(
                $"The demo's story broke off at {deed.At}: {deed.Method} {request.RequestUri} was answered {text}");
        }

        if (deed.Names is { } name)
        {
            using var body = JsonDocument.Parse(text);
            _known[name] = body.RootElement.GetProperty("id").GetString()!;

            if (body.RootElement.TryGetProperty("sequence", out var sequence))
            {
                _known[$"{name}.sequence"] = sequence.GetRawText();
            }
        }
    }

    private string Filled(string path) => Placeholder().Replace(path, match => _known[match.Groups[1].Value]);

    [GeneratedRegex(@"\{([^}]+)\}")]
    private static partial Regex Placeholder();
}
