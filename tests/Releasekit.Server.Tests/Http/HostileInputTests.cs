using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;

namespace Releasekit.Server.Tests.Http;

/// <summary>
/// Hostile bodies and requests, each of which must end in its class and never
/// in a defect. Cases: Checks/hostile.json (our own collection; OWASP API
/// Security 2023, RFC 9110 and RFC 9112 behind them).
/// </summary>
public class HostileInputTests(Service service)
{
    private static readonly Lazy<JsonElement[]> Known = new(() => [.. JsonDocument
        .Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", "hostile.json")))
        .RootElement.GetProperty("cases").EnumerateArray()]);

    public static TheoryData<string> Bodies => Ids("json");

    public static TheoryData<string> Requests => Ids("http");

    [Theory]
    [MemberData(nameof(Bodies))]
    public async Task A_hostile_body_ends_in_its_class(string id)
    {
        var hostile = Known.Value.Single(one => one.GetProperty("id").GetString() == id);
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        using var body = new ByteArrayContent(WithSeries(BytesOf(hostile)));
        body.Headers.ContentType = new("application/json");

        var answer = await publisher.Http.PostAsync(new Uri("/v1/releases", UriKind.Relative), body);
        var text = await answer.Content.ReadAsStringAsync();

        if (hostile.GetProperty("expect").GetString() == "accepted")
        {
            Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
            var sent = JsonDocument.Parse(BytesOf(hostile)).RootElement.GetProperty("title").GetString();
            Assert.Equal(sent, JsonDocument.Parse(text).RootElement.GetProperty("title").GetString());
        }
        else
        {
            Assert.InRange((int)answer.StatusCode, 400, 499);
            Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
            Assert.Empty((await publisher.Client.Releases.List()).Content!.Items);
        }
    }

    [Theory]
    [MemberData(nameof(Requests))]
    public async Task A_hostile_request_ends_in_its_class(string id)
    {
        var hostile = Known.Value.Single(one => one.GetProperty("id").GetString() == id);
        var publisher = await service.NewPublisher();
        var request = Encoding.Latin1.GetString(BytesOf(hostile))
            .Replace("/v1/items", "/v1/releases", StringComparison.Ordinal)
            .Replace("page_size", "limit", StringComparison.Ordinal)
            .Replace("demo-token-please-change", publisher.Token, StringComparison.Ordinal)
            .Replace("{{ID}}", id, StringComparison.Ordinal);

        var status = await StatusOf(request);

        if (hostile.TryGetProperty("status", out var expected) && expected.ValueKind is JsonValueKind.Number)
        {
            Assert.Equal(expected.GetInt32(), status);
        }
        else
        {
            Assert.True(status is (>= 200 and < 500) or 505, $"{status}");
        }
    }

    /// <summary>
    /// The cases speak of a thing with a title and a time: here a release, which also names its series.
    /// </summary>
    private static byte[] WithSeries(byte[] body)
    {
        var text = Encoding.Latin1.GetString(body).Replace("\"at\":", "\"plannedAt\":", StringComparison.Ordinal);

        return Encoding.Latin1.GetBytes(text.StartsWith("{\"title\"", StringComparison.Ordinal)
            ? $"{{\"series\":\"{Scenario.Series}\",{text[1..]}"
            : text);
    }

    private static byte[] BytesOf(JsonElement hostile)
    {
        if (hostile.TryGetProperty("input_hex", out var hex))
        {
            return Convert.FromHexString(hex.GetString()!);
        }

        var text = hostile.GetProperty("input").GetString()!;

        if (hostile.TryGetProperty("repeat", out var repeat) && repeat.ValueKind is JsonValueKind.Object)
        {
            var many = string.Concat(
                Enumerable.Repeat(repeat.GetProperty("text").GetString()!, repeat.GetProperty("times").GetInt32()));
            text = text.Replace(repeat.GetProperty("token").GetString()!, many, StringComparison.Ordinal);
        }

        return Encoding.UTF8.GetBytes(text);
    }

    private async Task<int> StatusOf(string request)
    {
        var address = new Uri(service.Address);
        using var socket = new TcpClient();
        await socket.ConnectAsync(address.Host, address.Port);
        await using var stream = socket.GetStream();
        await stream.WriteAsync(Encoding.Latin1.GetBytes(request));
        var buffer = new byte[64];
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        var read = await stream.ReadAtLeastAsync(buffer, 12, throwOnEndOfStream: false, limit.Token);

        return int.Parse(
            Encoding.ASCII.GetString(buffer, 0, read).Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture);
    }

    private static TheoryData<string> Ids(string kind) =>
        [.. Known.Value.Where(one => one.GetProperty("kind").GetString() == kind)
            .Select(one => one.GetProperty("id").GetString()!)];
}
