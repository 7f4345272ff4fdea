using System.Text;
using Marten;
using Marten.Patching;
using Releasekit.Server.CalDav;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Pages;
using Releasekit.Server.Store;

namespace Releasekit.Server.Access;

/// <summary>Who calls: which publisher's token, with which scopes.</summary>
/// <param name="Secret">The token itself, known only while its request runs; empty in a session.</param>
internal sealed record Caller(string Publisher, Guid Token, IReadOnlyList<Scope> Scopes, string Secret)
{
    public static ValueTask<Caller> BindAsync(HttpContext http) => new(http.Features.Get<Caller>()!);
}

/// <summary>
/// Lets a request through to a route when its token holds the route's scope (RFC 6750). Tokens are read from the
/// database every time, so that revoking one works at once, in every process.
/// </summary>
internal sealed class AccessGate(
    RequestDelegate next, TokenTable tokens, IDocumentStore store, ServiceClock clock, Origin origin,
    FailedTokens failures, Sessions sessions)
{
    private const string Scheme = "Bearer ";
    private const string Basic = "Basic ";
    private const int MostOfBasic = 1_000;
    private static readonly Duration LastUseStep = Duration.FromMinutes(1);

    public async Task InvokeAsync(HttpContext http)
    {
        if (http.GetEndpoint() is not { } endpoint
            || endpoint.Metadata.GetMetadata<NeededScope>() is not { Scope: { } needed })
        {
            await next(http);
            return;
        }

        var takesBasic = endpoint.Metadata.GetMetadata<TakesBasic>() is not null;
        var secret = SecretOf(http.Request) ?? (takesBasic ? PasswordOf(http.Request) : null);
        var session = secret is null ? SessionOf(http, endpoint) : null;
        var token = secret is not null
            ? await Find(secret, http.RequestAborted) : await FindBySession(session, http.RequestAborted);

        if (token is null && secret is null && http.WantsPage())
        {
            http.Response.Redirect(SignIn.AddressFor(http.Request));
        }
        else if (token is null)
        {
            await RefuseUnknown(http, secret, takesBasic);
        }
        else if (session is not null && IsWriting(http.Request) && !await sessions.IsFromOurPage(http))
        {
            await ProblemWriter.Write(http, Problems.Of(
                "form-stale",
                "This was not sent from a page of this session. Go back, load the page again, and send it once more; "
                + "your browser usually keeps what you typed."));
        }
        else if (!token.Scopes.Contains(needed))
        {
            await RefuseForbidden(http, needed);
        }
        else
        {
            http.Features.Set(new Caller(token.Publisher, token.Id, token.Scopes, secret ?? string.Empty));
            await next(http);
        }
    }

    private static string? SecretOf(HttpRequest request) =>
        request.Headers.Authorization is [{ } header] && header.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase)
        && header[Scheme.Length..].Trim() is { Length: > 0 and <= 200 } secret
            ? secret
            : null;

    /// <summary>Calendar apps send a name, which says nothing here, and the token as its password (RFC 7617).</summary>
    private static string? PasswordOf(HttpRequest request)
    {
        var bytes = new byte[MostOfBasic];

        return request.Headers.Authorization is [{ } header]
            && header.StartsWith(Basic, StringComparison.OrdinalIgnoreCase)
            && Convert.TryFromBase64String(header[Basic.Length..].Trim(), bytes, out var length)
            && Encoding.UTF8.GetString(bytes, 0, length).Split(':', 2) is [_, { Length: > 0 and <= 200 } password]
                ? password
                : null;
    }

    private async Task<AccessToken?> Find(string secret, CancellationToken cancel)
    {
        var token = await tokens.Find(Secrets.IdOf(secret), cancel);
        return token is not null && token.Is(secret) ? await Used(token, cancel) : null;
    }

    private Guid? SessionOf(HttpContext http, Endpoint endpoint) =>
        endpoint.Metadata.GetMetadata<ShownAsPage>() is null ? null : sessions.TokenOf(http);

    private async Task<AccessToken?> FindBySession(Guid? opened, CancellationToken cancel) =>
        opened is { } token ? await Used(await tokens.Find(token, cancel), cancel) : null;

    private static bool IsWriting(HttpRequest request) =>
        !HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method);

    private async Task<AccessToken?> Used(AccessToken? token, CancellationToken cancel)
    {
        if (token is null)
        {
            return null;
        }

        var now = clock.Now;
        var isRecent = token.LastUsedAt is { } used && used <= now && now - used <= LastUseStep;

        // While the demo is told nobody uses a token; its clock leaps, and every leap would be written down.
        if (!isRecent && origin.Current is null)
        {
            await NoteUse(token.Id, now, cancel);
        }

        return token;
    }

    /// <summary>An update, not an upsert: a token revoked this moment must not come back.</summary>
    private async Task NoteUse(Guid token, Instant now, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        session.Patch<AccessToken>(token).Set(known => known.LastUsedAt, now);
        await session.SaveChangesAsync(cancel);
    }

    private async Task RefuseUnknown(HttpContext http, string? secret, bool takesBasic)
    {
        if (secret is not null && failures.Count(http.Connection.RemoteIpAddress) is { } wait)
        {
            http.Response.Headers.RetryAfter = wait.ToString(System.Globalization.CultureInfo.InvariantCulture);
            await ProblemWriter.Write(http, Problems.Of(
                "too-many-failures", $"Too many wrong tokens from this address; try again in {wait} seconds."));
            return;
        }

        http.Response.Headers.WWWAuthenticate = takesBasic
            ? "Basic realm=\"releasekit\", charset=\"UTF-8\""
            : secret is null
            ? "Bearer realm=\"releasekit\""
            : "Bearer realm=\"releasekit\", error=\"invalid_token\"";
        await ProblemWriter.Write(http, Problems.Of(
            "unauthenticated", "Send a token of this service: Authorization: Bearer <token>."));
    }

    private static Task RefuseForbidden(HttpContext http, Scope needed)
    {
        var name = needed.ToString().ToLowerInvariant();
        http.Response.Headers.WWWAuthenticate =
            $"Bearer realm=\"releasekit\", error=\"insufficient_scope\", scope=\"{name}\"";
        return ProblemWriter.Write(http, Problems.Of("forbidden", $"This needs a token with the scope '{name}'."));
    }
}
