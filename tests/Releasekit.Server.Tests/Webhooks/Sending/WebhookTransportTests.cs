using System.IO.Compression;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using Releasekit.Domain.Webhooks;
using Releasekit.Server.Tests.Webhooks.Signing;
using Releasekit.Server.Webhooks.Sending;
using Releasekit.Server.Webhooks.Signing;

namespace Releasekit.Server.Tests.Webhooks.Sending;

/// <summary>
/// Attempts against receivers on loopback that are slow, broken or hostile. What is expected: Standard Webhooks 1.0.0,
/// "Deliverability and reliability", and the OWASP cheat sheet on server-side request forgery.
/// </summary>
public class WebhookTransportTests
{
    private const string Fine = "HTTP/1.1 200 OK\r\nContent-Length: 2\r\n\r\nok";

    private static readonly byte[] Body = Encoding.UTF8.GetBytes("{\"title\":\"Eelgrass\u2028🦀\"}\r\n");
    private static readonly SigningSecret Secret = SigningSecret.New();
    private static readonly Instant Now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());

    private static readonly SendingLimits Hasty = SendingLimits.Usual with
    {
        Total = TimeSpan.FromMilliseconds(1_500),
    };

    [Fact]
    public async Task A_message_arrives_as_it_was_signed_and_the_answer_is_kept()
    {
        await using var receiver = ScriptedReceiver.Answering(
            "HTTP/1.1 429 Slow down\r\nRetry-After: 120\r\nContent-Length: 9\r\n\r\n<b>no</b>");

        var report = await Send(receiver.Url, Message() with { Replayed = true });

        var (head, body) = Assert.Single(receiver.Requests);
        var headers = head.Split("\r\n")[1..].Where(line => line.Contains(": "))
            .ToDictionary(line => line.Split(": ")[0], line => line.Split(": ", 2)[1]);
        Assert.StartsWith("POST /hooks HTTP/1.1\r\n", head, StringComparison.Ordinal);
        Assert.Equal("application/json; charset=utf-8", headers["Content-Type"]);
        Assert.Equal("true", headers["webhook-replayed"]);
        Assert.True(Receiver.Accepts(
            Secret.Reveal(), headers["webhook-id"], headers["webhook-timestamp"], headers["webhook-signature"], body,
            Now));
        Assert.Equal(AttemptOutcome.Answered(429, "120"), report.Outcome);
        Assert.Equal("<b>no</b>", Encoding.UTF8.GetString(report.Answer));
        Assert.Equal(IPAddress.Loopback, report.Dialled);
    }

    [Theory]
    [InlineData("302 Found")]
    [InlineData("307 Temporary Redirect")]
    [InlineData("308 Permanent Redirect")]
    public async Task A_redirect_is_a_failure_and_never_followed(string status)
    {
        await using var elsewhere = ScriptedReceiver.Answering(Fine);
        await using var receiver = ScriptedReceiver.Answering(
            $"HTTP/1.1 {status}\r\nLocation: {elsewhere.Url}\r\nContent-Length: 0\r\n\r\n");

        var report = await Send(receiver.Url);

        Assert.StartsWith($"{report.Outcome.Status} ", status, StringComparison.Ordinal);
        Assert.Equal(0, elsewhere.Connections);
    }

    [Fact]
    public async Task Headers_without_end_break_the_attempt()
    {
        await using var receiver = new ScriptedReceiver(async (stream, cancel) =>
        {
            await stream.WriteAsync("HTTP/1.1 200 OK\r\n"u8.ToArray(), cancel);

            for (var i = 0; i < 4_000; i++)
            {
                await stream.WriteAsync(Encoding.ASCII.GetBytes($"X-{i}: {new string('a', 100)}\r\n"), cancel);
            }
        });

        Assert.Equal(
            AttemptOutcome.Failed(AttemptFailure.AnswerBroken), (await Send(receiver.Url, limits: Hasty)).Outcome);
    }

    [Fact]
    public async Task A_receiver_that_is_silent_or_late_is_cut_off_and_delays_no_other()
    {
        await using var silent = new ScriptedReceiver((_, cancel) => Task.Delay(Timeout.Infinite, cancel));
        await using var well = ScriptedReceiver.Answering(Fine);
        using var transport = Transport(Hasty);

        var waiting = Enumerable.Range(0, 8).Select(_ => Send(silent.Url, transport: transport)).ToArray();
        var fine = await Send(well.Url, transport: transport);
        var reports = await Task.WhenAll(waiting);

        Assert.Equal(200, fine.Outcome.Status);
        Assert.True(fine.Took < Hasty.Total);
        Assert.All(reports, report =>
        {
            Assert.Equal(AttemptOutcome.Failed(AttemptFailure.TimedOut), report.Outcome);
            Assert.InRange(report.Took, Hasty.Total * 0.9, Hasty.Total * 5);
        });
    }

    [Fact]
    public async Task A_yes_counts_even_if_its_body_never_ends()
    {
        await using var receiver = new ScriptedReceiver(async (stream, cancel) =>
        {
            await stream.WriteAsync("HTTP/1.1 200 OK\r\nContent-Length: 999999\r\n\r\nthank you"u8.ToArray(), cancel);
            await Task.Delay(Timeout.Infinite, cancel);
        });

        var report = await Send(receiver.Url, limits: Hasty);

        Assert.Equal(AttemptOutcome.Answered(200), report.Outcome);
        Assert.Equal("thank you", Encoding.UTF8.GetString(report.Answer));
        Assert.InRange(report.Took, Hasty.Total * 0.9, Hasty.Total * 5);
    }

    [Fact]
    public async Task A_packed_answer_stays_packed_and_a_long_one_is_not_read_to_its_end()
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.NoCompression, leaveOpen: true))
        {
            gzip.Write(new byte[50_000_000]);
        }

        var written = 0L;
        await using var receiver = new ScriptedReceiver(async (stream, cancel) =>
        {
            await stream.WriteAsync(Encoding.ASCII.GetBytes(
                $"HTTP/1.1 200 OK\r\nContent-Encoding: gzip\r\nContent-Length: {packed.Length}\r\n\r\n"), cancel);

            foreach (var piece in packed.ToArray().Chunk(64 * 1024))
            {
                await stream.WriteAsync(piece, cancel);
                written += piece.Length;
            }
        });

        var report = await Send(receiver.Url);

        Assert.Equal(AttemptOutcome.Answered(200), report.Outcome);
        Assert.Equal(packed.ToArray()[..1024], report.Answer);
        Assert.True(written < packed.Length / 2, $"{written} bytes were taken");
    }

    [Fact]
    public async Task A_cookie_is_not_sent_back_and_a_connection_is_used_again()
    {
        await using var receiver = ScriptedReceiver.Answering(
            "HTTP/1.1 200 OK\r\nSet-Cookie: tide=high\r\nContent-Length: 0\r\n\r\n");
        using var transport = Transport();

        await Send(receiver.Url, transport: transport);
        var second = await Send(receiver.Url, transport: transport);

        Assert.Equal(2, receiver.Requests.Count);
        Assert.All(receiver.Requests, request => Assert.DoesNotContain("ookie", request.Head));
        Assert.Equal(1, receiver.Connections);
        Assert.Null(second.Dialled);
    }

    [Theory]
    [InlineData("127.0.0.1", 1)]
    [InlineData("127.0.0.1", -1)]
    [InlineData("other.example.com", 1)]
    public async Task A_certificate_that_nobody_vouches_for_ends_it_without_a_message(string name, int days)
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest($"CN={name}", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        var end = TimeProvider.System.GetUtcNow().AddDays(days);
        using var certificate = X509CertificateLoader.LoadPkcs12(
            request.CreateSelfSigned(end.AddDays(-30), end).Export(X509ContentType.Pkcs12), null);
        await using var receiver = new ScriptedReceiver((_, _) => Task.CompletedTask, certificate);

        var report = await Send(receiver.Url);

        Assert.Equal(AttemptOutcome.Failed(AttemptFailure.NotSecure), report.Outcome);
        Assert.Empty(receiver.Requests);
        Assert.Equal(1, receiver.Connections);
    }

    [Fact]
    public async Task A_service_that_stops_gives_the_attempt_up()
    {
        await using var silent = new ScriptedReceiver((_, cancel) => Task.Delay(Timeout.Infinite, cancel));
        using var stopping = new CancellationTokenSource(TimeSpan.FromMilliseconds(200));
        using var transport = Transport();

        var report = await transport.Send(Target(silent.Url), Message(), stopping.Token);

        Assert.Equal(AttemptOutcome.Failed(AttemptFailure.Interrupted), report.Outcome);
    }

    [Theory]
    [InlineData("", AttemptFailure.AnswerBroken)]
    [InlineData("220 mail.example.com ESMTP\r\n", AttemptFailure.AnswerBroken)]
    public async Task What_is_no_answer_is_a_failure(string answer, AttemptFailure expected)
    {
        await using var receiver = new ScriptedReceiver(async (stream, cancel) =>
        {
            await stream.WriteAsync(Encoding.ASCII.GetBytes(answer), cancel);
            throw new IOException("The receiver hangs up.");
        });

        Assert.Equal(AttemptOutcome.Failed(expected), (await Send(receiver.Url)).Outcome);
    }

    [Fact]
    public async Task Where_nothing_listens_and_what_has_no_address_is_told_apart()
    {
        var receiver = ScriptedReceiver.Answering(Fine);
        var url = receiver.Url;
        await receiver.DisposeAsync();
        using var nameless = Transport(
            lookUp: (_, _) => throw new SocketException((int)SocketError.HostNotFound));

        Assert.Equal(AttemptOutcome.Failed(AttemptFailure.NotConnected), (await Send(url)).Outcome);
        Assert.Equal(
            AttemptOutcome.Failed(AttemptFailure.NameUnknown),
            (await Send("https://tools.example.com/", transport: nameless)).Outcome);
    }

    private static OutgoingMessage Message() => new(
        SignedHeaders.Of("msg_a", Now, Body, new(Secret)), new(Body, "application/json; charset=utf-8"));

    private static TargetUrl Target(string url) => TargetUrl.TryParse(url, allowsLoopback: true, out _)!;

    private static WebhookTransport Transport(
        SendingLimits? limits = null, Func<string, CancellationToken, Task<IPAddress[]>>? lookUp = null) =>
        new(new(allowsLoopback: true, () => [], lookUp), limits ?? SendingLimits.Usual, TimeProvider.System);

    private static async Task<AttemptReport> Send(
        string url, OutgoingMessage? message = null, SendingLimits? limits = null, WebhookTransport? transport = null)
    {
        using var own = transport is null ? Transport(limits) : null;
        return await (transport ?? own!).Send(Target(url), message ?? Message(), CancellationToken.None);
    }
}
