using System.Text;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The bytes of a PUT as text: within the size served, of the media type, in UTF-8.</summary>
internal static class BodyBytes
{
    /// <summary>What a collection tells as CALDAV:max-resource-size.</summary>
    public const int Most = 1_048_576;

    private static readonly UTF8Encoding Strict =
        new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private static readonly string[] Charsets = ["utf-8", "utf8", "us-ascii"];

    /// <param name="contentType">
    /// As sent; one that is missing leaves the judgement to the body. Parameters but charset mean nothing here.
    /// </param>
    /// <returns>The text without a byte order mark.</returns>
    /// <exception cref="BodyRefusedException">It is too large, of other media or charset, or no UTF-8.</exception>
    public static string Read(byte[] body, string? contentType)
    {
        if (body.Length > Most)
        {
            throw new BodyRefusedException(BodyFault.TooLarge($"The body has more than {Most} bytes."));
        }

        CheckMedia(contentType);
        var text = Decode(body);

        return text.StartsWith('\uFEFF') ? text[1..] : text;
    }

    private static void CheckMedia(string? contentType)
    {
        if (string.IsNullOrWhiteSpace(contentType))
        {
            return;
        }

        var parts = contentType.Split(';', StringSplitOptions.TrimEntries);
        var charset = parts.Skip(1)
            .Select(part => part.Split('=', 2, StringSplitOptions.TrimEntries))
            .FirstOrDefault(pair => pair.Length == 2 && pair[0].Equals("charset", StringComparison.OrdinalIgnoreCase));
        if (!parts[0].Equals("text/calendar", StringComparison.OrdinalIgnoreCase)
            || (charset is not null && !Charsets.Contains(charset[1].Trim('"'), StringComparer.OrdinalIgnoreCase)))
        {
            throw new BodyRefusedException(BodyFault.OtherMedia("The body must be text/calendar in UTF-8."));
        }
    }

    private static string Decode(byte[] body)
    {
        try
        {
            return Strict.GetString(body);
        }
        catch (DecoderFallbackException)
        {
            return DecodeUnfolded(body);
        }
    }

    // Lines may have been folded inside a character, which RFC 5545, 3.1 asks readers to bear.
    private static string DecodeUnfolded(byte[] body)
    {
        try
        {
            return Strict.GetString(Encoding.Latin1.GetBytes(Encoding.Latin1.GetString(body)
                .Replace("\r\n ", "", StringComparison.Ordinal)
                .Replace("\r\n\t", "", StringComparison.Ordinal)
                .Replace("\n ", "", StringComparison.Ordinal)
                .Replace("\n\t", "", StringComparison.Ordinal)));
        }
        catch (DecoderFallbackException)
        {
            throw new BodyRefusedException(BodyFault.Malformed("The body is not in UTF-8."));
        }
    }
}
