using Microsoft.Net.Http.Headers;
using Releasekit.Server.Access;

namespace Releasekit.Server.Pages;

/// <summary>Whether a request wants a page or data (RFC 9110, section 12.5.1).</summary>
internal static class PageNegotiation
{
    private const string Html = "text/html";
    private static readonly string[] NeverPages = ["/v1", "/feeds", "/openapi", "/health", "/assets"];

    /// <summary>
    /// Whether what goes wrong is shown as a page: on every page for people, and where a browser went astray.
    /// </summary>
    public static bool WantsPage(this HttpContext http) => http.GetEndpoint() is { } endpoint
        ? endpoint.Metadata.GetMetadata<ShownAsPage>() is not null
            && (!http.Request.Path.StartsWithSegments("/v1") || http.Request.PrefersHtml())
        : http.Request.PrefersHtml() && !NeverPages.Any(path => http.Request.Path.StartsWithSegments(path));

    /// <summary>Whether it names HTML, and JSON not or with less weight.</summary>
    public static bool PrefersHtml(this HttpRequest request)
    {
        var accept = request.GetTypedHeaders().Accept;
        return QualityOf(accept, Html) is { } html && html > 0 && html >= (QualityOf(accept, "application/json") ?? 0);
    }

    private static double? QualityOf(IList<MediaTypeHeaderValue> accept, string type) => accept
        .Where(one => one.MediaType.Equals(type, StringComparison.OrdinalIgnoreCase))
        .Select(one => (double?)(one.Quality ?? 1))
        .FirstOrDefault();
}
