using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Store;

namespace Releasekit.Server.Http;

/// <summary>
/// Answers a repeated POST with the answer of the first
/// (draft-ietf-httpapi-idempotency-key-header): the same key and body within a
/// day do the work once. Keys belong to a token.
/// </summary>
internal sealed class IdempotentPosts(RequestDelegate next, IdempotencyKeys keys, ServiceClock clock)
{
    private const int LongestKey = 255;
    private static readonly string[] KeptHeaders = ["Location", "ETag", "Content-Type", "Link"];

    public async Task InvokeAsync(HttpContext http)
    {
        var header = http.Request.Headers["Idempotency-Key"];

        if (header.Count == 0 || !HttpMethods.IsPost(http.Request.Method)
            || http.Features.Get<Caller>() is not { Secret.Length: > 0 } caller)
        {
            await next(http);
            return;
        }

        if (KeyOf(header.ToString()) is not { } key)
        {
            await ProblemWriter.Write(http, Problems.Of(
                "malformed",
                $"An Idempotency-Key has 1 to {LongestKey} visible characters, quoted or bare, and stands once."));
            return;
        }

        var request = await DigestOf(http.Request);
        var kept = await keys.Claim(caller.Token, key, request, clock.Now, http.RequestAborted);

        if (kept is null)
        {
            await RunAndKeep(http, caller, key);
        }
        else
        {
            await Repeat(http, kept, request, caller, key);
        }
    }

    private static string? KeyOf(string header)
    {
        var key = header is ['"', .. var quoted, '"'] ? quoted : header;
        return key.Length is > 0 and <= LongestKey && key.All(c => c is > ' ' and < '\u007F' and not ('"' or ','))
            ? key : null;
    }

    private static async Task<string> DigestOf(HttpRequest request)
    {
        request.EnableBuffering(bufferThreshold: 1 << 20);
        using var digest = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        digest.AppendData(Encoding.UTF8.GetBytes($"{request.Path}{request.QueryString}\n{request.ContentType}\n"));
        var buffer = new byte[16 * 1024];

        for (int read; (read = await request.Body.ReadAsync(buffer)) > 0;)
        {
            digest.AppendData(buffer, 0, read);
        }

        request.Body.Position = 0;
        return Convert.ToHexStringLower(digest.GetHashAndReset());
    }

    private async Task RunAndKeep(HttpContext http, Caller caller, string key)
    {
        var stream = http.Response.Body;
        using var copy = new MemoryStream();
        http.Response.Body = copy;
        var isKept = false;

        try
        {
            await next(http);

            if (http.Response.StatusCode is < 500 and not (401 or 403 or 429))
            {
                var sealedBody = SealedAnswer.Seal(copy.ToArray(), caller.Secret, key);
                await keys.Keep(caller.Token, key, http.Response.StatusCode, HeadersOf(http.Response), sealedBody);
                isKept = true;
            }
        }
        finally
        {
            http.Response.Body = stream;

            if (!isKept)
            {
                await keys.Release(caller.Token, key);
            }
        }

        copy.Position = 0;
        await copy.CopyToAsync(stream, http.RequestAborted);
    }

    private static async Task Repeat(HttpContext http, KeptAnswer kept, string request, Caller caller, string key)
    {
        if (kept.Request != request)
        {
            await ProblemWriter.Write(http, Problems.Of(
                "idempotency.reused",
                "This Idempotency-Key was used for another request; take a new key for a new request."));
            return;
        }

        if (kept.Status is not { } status)
        {
            http.Response.Headers.RetryAfter = "1";
            await ProblemWriter.Write(http, Problems.Of(
                "idempotency.running", "The first request with this Idempotency-Key has not been answered yet."));
            return;
        }

        http.Response.StatusCode = status;

        foreach (var (name, value) in JsonSerializer.Deserialize<Dictionary<string, string>>(kept.Headers)!)
        {
            http.Response.Headers[name] = value;
        }

        await http.Response.Body.WriteAsync(SealedAnswer.Open(kept.Body, caller.Secret, key), http.RequestAborted);
    }

    private static string HeadersOf(HttpResponse response) => JsonSerializer.Serialize(KeptHeaders
        .Where(response.Headers.ContainsKey)
        .ToDictionary(name => name, name => response.Headers[name].ToString()));
}
