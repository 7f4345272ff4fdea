using System.Net;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>
/// Carries messages to receivers that may be slow, broken or hostile. One for the whole service: it keeps the
/// connections.
/// </summary>
internal sealed class WebhookTransport(AddressGuard guard, SendingLimits limits, TimeProvider time) : IDisposable
{
    private const string Agent = "Releasekit";
    private const string ReplayedName = "webhook-replayed";

    private readonly HttpClient _http = new(HandlerOf(guard, limits)) { Timeout = Timeout.InfiniteTimeSpan };

    /// <summary>
    /// The client below: it follows nothing, keeps nothing from one message to the next, and sees no address but those
    /// the guard let through; what is unpacked or goes through a proxy would escape the limits or the guard.
    /// </summary>
    public static SocketsHttpHandler HandlerOf(AddressGuard guard, SendingLimits limits) => new()
    {
        ConnectCallback = guard.Connect,
        AllowAutoRedirect = false,
        UseProxy = false,
        UseCookies = false,
        AutomaticDecompression = DecompressionMethods.None,
        ConnectTimeout = limits.Connect,
        PooledConnectionLifetime = limits.ConnectionLife,
        MaxConnectionsPerServer = limits.Connections,
        MaxResponseHeadersLength = limits.HeaderKibibytes,
        MaxResponseDrainSize = 0,
    };

    /// <summary>Makes one attempt; never throws for what a receiver does.</summary>
    /// <param name="stopping">The service stops: the attempt is given up.</param>
    public async Task<AttemptReport> Send(TargetUrl target, OutgoingMessage message, CancellationToken stopping)
    {
        var began = time.GetTimestamp();
        using var request = RequestOf(target, message);
        using var timeout = new CancellationTokenSource(limits.Total, time);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(timeout.Token, stopping);
        var (outcome, answer) = await Send(request, limit.Token, stopping);
        request.Options.TryGetValue(AddressGuard.Dialled, out var dialled);

        return new(outcome, time.GetElapsedTime(began), answer, dialled);
    }

    public void Dispose() => _http.Dispose();

    private static HttpRequestMessage RequestOf(TargetUrl target, OutgoingMessage message)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, target.Address)
        {
            Version = HttpVersion.Version11,
            VersionPolicy = HttpVersionPolicy.RequestVersionExact,
            Content = new ByteArrayContent(message.Body.Bytes),
        };
        request.Content.Headers.TryAddWithoutValidation("Content-Type", message.Body.MediaType);
        request.Headers.TryAddWithoutValidation("User-Agent", Agent);
        request.Headers.TryAddWithoutValidation(Signing.SignedHeaders.IdName, message.Headers.Id);
        request.Headers.TryAddWithoutValidation(Signing.SignedHeaders.TimestampName, message.Headers.Timestamp);
        request.Headers.TryAddWithoutValidation(Signing.SignedHeaders.SignatureName, message.Headers.Signature);

        if (message.Replayed)
        {
            request.Headers.TryAddWithoutValidation(ReplayedName, "true");
        }

        return request;
    }

    private async Task<(AttemptOutcome Outcome, byte[] Answer)> Send(
        HttpRequestMessage request, CancellationToken limit, CancellationToken stopping)
    {
        try
        {
            using var response = await _http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, limit);
            var retryAfter = response.Headers.NonValidated.TryGetValues("Retry-After", out var values)
                ? values.ToString() : null;

            return (AttemptOutcome.Answered((int)response.StatusCode, retryAfter), await StartOf(response, limit));
        }
        catch (OperationCanceledException)
        {
            return (AttemptOutcome.Failed(stopping.IsCancellationRequested
                ? AttemptFailure.Interrupted : AttemptFailure.TimedOut), []);
        }
        catch (HttpRequestException failure)
        {
            return (AttemptOutcome.Failed(FailureOf(failure)), []);
        }
    }

    /// <summary>
    /// How the answer begins. It is only kept, not judged: what breaks here changes nothing, as the receiver has said
    /// yes or no already.
    /// </summary>
    private async Task<byte[]> StartOf(HttpResponseMessage response, CancellationToken limit)
    {
        var answer = new byte[limits.AnswerBytes];
        var length = 0;

        try
        {
            await using var body = await response.Content.ReadAsStreamAsync(limit);

            while (length < answer.Length && await body.ReadAsync(answer.AsMemory(length), limit) is > 0 and var read)
            {
                length += read;
            }
        }
        catch (Exception broken) when (broken is HttpRequestException or IOException or OperationCanceledException)
        {
            // What was read so far is kept.
        }

        return answer[..Math.Min(length, limits.KeptBytes)];
    }

    private static AttemptFailure FailureOf(HttpRequestException failure) => failure switch
    {
        { InnerException: AddressRefusedException } => AttemptFailure.AddressRefused,
        { HttpRequestError: HttpRequestError.NameResolutionError } => AttemptFailure.NameUnknown,
        { HttpRequestError: HttpRequestError.SecureConnectionError } => AttemptFailure.NotSecure,
        { HttpRequestError: HttpRequestError.ConnectionError } => AttemptFailure.NotConnected,
        _ => AttemptFailure.AnswerBroken,
    };
}
