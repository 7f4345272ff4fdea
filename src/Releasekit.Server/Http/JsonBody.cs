using System.Text.Json;

namespace Releasekit.Server.Http;

/// <summary>Reads a JSON body outside of parameter binding, with the same rules and the same errors.</summary>
internal static class JsonBody
{
    public static async Task<T?> Read<T>(HttpContext http)
    {
        try
        {
            return await JsonSerializer.DeserializeAsync<T>(http.Request.Body, ApiJson.Options, http.RequestAborted);
        }
        catch (JsonException e)
        {
            throw new BadHttpRequestException("The body is no JSON that can be read here.", e);
        }
    }
}

/// <summary>What a body says it is.</summary>
internal static class MediaTypes
{
    /// <summary>Whether it is JSON in UTF-8 (RFC 8259, 8.1), or of one of the <paramref name="others"/>.</summary>
    public static bool IsJson(string? contentType, params string[] others) =>
        Is(contentType, ["application/json", .. others]);

    public static bool Is(string? contentType, params string[] accepted) =>
        System.Net.Http.Headers.MediaTypeHeaderValue.TryParse(contentType, out var type)
        && accepted.Contains(type.MediaType, StringComparer.OrdinalIgnoreCase)
        && (type.CharSet is null || type.CharSet.Trim('"').Equals("utf-8", StringComparison.OrdinalIgnoreCase));
}
