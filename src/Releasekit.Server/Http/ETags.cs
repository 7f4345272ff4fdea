using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.Net.Http.Headers;

namespace Releasekit.Server.Http;

/// <summary>
/// Strong ETags (RFC 9110, 8.8.3): a digest of the bytes that GET shows, so that any change of what is shown, whatever
/// caused it, is another tag.
/// </summary>
internal static class ETags
{
    public static string OfBytes(ReadOnlySpan<byte> bytes)
    {
        Span<byte> digest = stackalloc byte[32];
        SHA256.HashData(bytes, digest);
        return $"\"{Base64Url.EncodeToString(digest[..15])}\"";
    }

    public static string Of<TBody>(TBody body) => OfBytes(JsonSerializer.SerializeToUtf8Bytes(body, ApiJson.Options));

    /// <summary>Sets the ETag and answers 304 when a GET or HEAD says it has this version.</summary>
    public static bool IsUnchanged(HttpContext http, string tag)
    {
        http.Response.Headers.ETag = tag;

        if (!HttpMethods.IsGet(http.Request.Method) && !HttpMethods.IsHead(http.Request.Method))
        {
            return false;
        }

        var has = ParsedList(http.Request.Headers.IfNoneMatch)
            .Any(known => known.Equals(EntityTagHeaderValue.Any) || known.Tag == tag);

        if (has)
        {
            http.Response.StatusCode = StatusCodes.Status304NotModified;
        }

        return has;
    }

    /// <summary>
    /// Whether a change may go on (RFC 9110, 13.1.1; RFC 6585, 3): 428 without If-Match where it is needed, 412 when it
    /// names another version; null when it may.
    /// </summary>
    public static Problem? CheckIfMatch<TBody>(HttpRequest request, TBody current, bool isNeeded = true)
    {
        if (request.Headers.IfMatch.Count == 0)
        {
            return isNeeded
                ? Problems.Of(
                    "precondition-required",
                    "Send the ETag of what you read in an If-Match header, so that nobody's change is lost; GET shows "
                        + "it.")
                : null;
        }

        var tag = Of(current);
        var matches = ParsedList(request.Headers.IfMatch)
            .Any(known => known.Equals(EntityTagHeaderValue.Any) || (!known.IsWeak && known.Tag == tag));

        return matches
            ? null
            : Problems.Of(
                "precondition-failed", "It was changed since you read it; read it again and repeat your change.");
    }

    private static IList<EntityTagHeaderValue> ParsedList(IList<string?> headers) =>
        EntityTagHeaderValue.TryParseList([.. headers.OfType<string>()], out var tags) ? tags : [];
}
