namespace Releasekit.Server.Http;

/// <summary>
/// Refuses bodies in another character set than UTF-8, or in a content coding: they are read as they are sent.
/// </summary>
internal sealed class BodyGuard(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext http)
    {
        var isCoded = http.Request.Headers.ContentEncoding.Count > 0;
        var isOther = http.Request.GetTypedHeaders().ContentType is { Charset: { HasValue: true } charset }
            && !charset.Equals("utf-8", StringComparison.OrdinalIgnoreCase)
            && !charset.Equals("\"utf-8\"", StringComparison.OrdinalIgnoreCase);

        return isCoded || isOther ? ProblemWriter.Write(http, Unsupported()) : next(http);
    }

    public static Problem Unsupported() =>
        Problems.Of("unsupported-media-type", "Send the body as application/json in UTF-8, uncompressed.");
}
