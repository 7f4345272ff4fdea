using Microsoft.AspNetCore.Http.Metadata;

namespace Releasekit.Server.Http;

/// <summary>
/// Refuses bodies in another character set than UTF-8, or in a content coding: they are read as they are sent.
/// </summary>
internal sealed class BodyGuard(RequestDelegate next)
{
    private const string MatchingByBody = "AcceptsMatcherPolicy";

    /// <summary>
    /// Routing itself answers 415 where no route takes the body's type, before anybody asked who is calling. It is told
    /// not to look: a route reads only what it takes, and the gate comes first.
    /// </summary>
    public static void LeaveBodiesToRoutes(IServiceCollection services) => services.Remove(
        services.Single(service =>
            service.ServiceType == typeof(MatcherPolicy) && service.ImplementationType?.Name == MatchingByBody));

    public Task InvokeAsync(HttpContext http)
    {
        var isCoded = http.Request.Headers.ContentEncoding.Count > 0;
        var isOther = http.Request.GetTypedHeaders().ContentType is { Charset: { HasValue: true } charset }
            && !charset.Equals("utf-8", StringComparison.OrdinalIgnoreCase)
            && !charset.Equals("\"utf-8\"", StringComparison.OrdinalIgnoreCase);

        return isCoded || isOther ? ProblemWriter.Write(http, Unsupported(http)) : next(http);
    }

    /// <summary>The problem that says what the route takes.</summary>
    public static Problem Unsupported(HttpContext http)
    {
        var types = http.GetEndpoint()?.Metadata.GetMetadata<IAcceptsMetadata>()?.ContentTypes ?? ["application/json"];
        return Problems.Of(
            "unsupported-media-type", $"Send the body as {string.Join(" or ", types)} in UTF-8, uncompressed.");
    }
}
