namespace Releasekit.Server.Http;

/// <summary>
/// Headers that keep answers out of caches and of other sites' pages (OWASP REST Security); routes may say otherwise.
/// </summary>
internal sealed class SafeHeaders(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext http)
    {
        var headers = http.Response.Headers;
        headers.XContentTypeOptions = "nosniff";
        headers.CacheControl = "no-store";
        headers.ContentSecurityPolicy = "default-src 'none'; frame-ancestors 'none'";
        headers["Referrer-Policy"] = "no-referrer";

        return next(http);
    }
}
