using System.Net;
using Releasekit.Domain.Webhooks;
using Releasekit.Server.Webhooks.Sending;
using Releasekit.Server.Webhooks.Signing;

namespace Releasekit.Server.Tests.Webhooks.Sending;

/// <summary>
/// The guard where it counts: with a listener on loopback that must never be reached, whatever the name says (OWASP
/// cheat sheet on server-side request forgery; DNS rebinding).
/// </summary>
public class AddressGuardTests
{
    private const string Fine = "HTTP/1.1 200 OK\r\nContent-Length: 2\r\n\r\nok";

    [Theory]
    [InlineData("127.0.0.1")]
    [InlineData("127.1")]
    [InlineData("2130706433")]
    [InlineData("0x7f.0.0.1")]
    [InlineData("0177.0.0.1")]
    [InlineData("localhost")]
    [InlineData("[::ffff:127.0.0.1]")]
    public async Task However_loopback_is_spelled_nothing_reaches_it(string host)
    {
        await using var receiver = ScriptedReceiver.Answering(Fine);

        var report = await Send(new(allowsLoopback: false, () => []), $"http://{host}:{receiver.Port}/hooks");

        Assert.Equal(AttemptOutcome.Failed(AttemptFailure.AddressRefused), report.Outcome);
        Assert.Equal(0, receiver.Connections);
    }

    [Theory]
    [InlineData("127.0.0.1", "10.0.0.5")]
    [InlineData("127.0.0.1", "::")]
    [InlineData("127.0.0.1", "fe80::1")]
    [InlineData("127.0.0.1", "64:ff9b::7f00:1")]
    public async Task One_address_inside_a_network_refuses_the_name_even_with_the_switch(params string[] behind)
    {
        await using var receiver = ScriptedReceiver.Answering(Fine);
        var guard = new AddressGuard(allowsLoopback: true, () => [], LookUp(behind));

        var report = await Send(guard, $"https://tools.example.com:{receiver.Port}/hooks");

        Assert.Equal(AttemptOutcome.Failed(AttemptFailure.AddressRefused), report.Outcome);
        Assert.Equal(0, receiver.Connections);
    }

    [Fact]
    public async Task The_address_that_was_looked_at_is_the_one_that_is_dialled()
    {
        await using var receiver = ScriptedReceiver.Answering(Fine);
        var looks = 0;
        var guard = new AddressGuard(
            allowsLoopback: true, () => [],
            (_, _) => Task.FromResult<IPAddress[]>([IPAddress.Parse(looks++ == 0 ? "127.0.0.1" : "10.0.0.5")]));

        // A receiver without a certificate says nothing: the secure connection comes to no end, after the dial.
        var report = await Send(guard, $"https://tools.example.com:{receiver.Port}/hooks");

        Assert.Equal(1, looks);
        Assert.Equal(1, receiver.Connections);
        Assert.Equal(IPAddress.Loopback, report.Dialled);
    }

    [Fact]
    public async Task The_service_does_not_send_to_itself()
    {
        await using var receiver = ScriptedReceiver.Answering(Fine);

        var own = await Send(new(allowsLoopback: true, () => [receiver.Port]), receiver.Url);
        var other = await Send(new(allowsLoopback: true, () => [receiver.Port + 1]), receiver.Url);

        Assert.Equal(AttemptOutcome.Failed(AttemptFailure.AddressRefused), own.Outcome);
        Assert.Equal(AttemptOutcome.Answered(200), other.Outcome);
        Assert.Equal(1, receiver.Connections);
    }

    [Fact]
    public void The_client_has_no_way_around_the_guard_and_the_limits()
    {
        using var handler = WebhookTransport.HandlerOf(new(false, () => []), SendingLimits.Usual);

        Assert.NotNull(handler.ConnectCallback);
        Assert.False(handler.AllowAutoRedirect);
        Assert.False(handler.UseProxy);
        Assert.False(handler.UseCookies);
        Assert.Equal(DecompressionMethods.None, handler.AutomaticDecompression);
        Assert.Equal(TimeSpan.FromSeconds(5), handler.ConnectTimeout);
        Assert.Equal(TimeSpan.FromMinutes(2), handler.PooledConnectionLifetime);
        Assert.Equal(4, handler.MaxConnectionsPerServer);
        Assert.Equal(16, handler.MaxResponseHeadersLength);
        Assert.Null(handler.Credentials);
        Assert.Null(handler.SslOptions.RemoteCertificateValidationCallback);
        Assert.Equal(TimeSpan.FromSeconds(20), SendingLimits.Usual.Total);
        Assert.Equal(64 * 1024, SendingLimits.Usual.AnswerBytes);
    }

    private static Func<string, CancellationToken, Task<IPAddress[]>> LookUp(string[] behind) =>
        (_, _) => Task.FromResult(behind.Select(IPAddress.Parse).ToArray());

    private static async Task<AttemptReport> Send(AddressGuard guard, string url)
    {
        var limits = SendingLimits.Usual with { Connect = TimeSpan.FromSeconds(1) };
        using var transport = new WebhookTransport(guard, limits, TimeProvider.System);
        var target = TargetUrl.TryParse(url, allowsLoopback: true, out _)!;
        var headers = SignedHeaders.Of("msg_a", Instant.FromUnixTimeSeconds(0), "{}"u8, new(SigningSecret.New()));

        return await transport.Send(target, new(headers, new("{}"u8.ToArray(), "application/json")), default);
    }
}
