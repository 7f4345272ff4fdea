using System.Globalization;

namespace Releasekit.Domain.Webhooks;

/// <summary>What a receiver says of when to come again (RFC 9110, 10.2.3).</summary>
public static class RetryAfter
{
    /// <summary>A receiver that asks for more waits no longer than this.</summary>
    public static readonly Duration Longest = Duration.FromHours(24);

    /// <summary>The three spellings of a date in RFC 9110, 5.6.7.</summary>
    private static readonly string[] Dates =
    [
        "ddd, dd MMM yyyy HH:mm:ss 'GMT'", "dddd, dd-MMM-yy HH:mm:ss 'GMT'", "ddd MMM d HH:mm:ss yyyy",
    ];

    /// <summary>How long the receiver wants to be left alone; null for nothing, junk and what is past.</summary>
    /// <param name="header">Seconds, or a date.</param>
    /// <param name="now">UTC.</param>
    public static Duration? Read(string? header, Instant now)
    {
        var text = header?.Trim(' ', '\t');

        if (string.IsNullOrEmpty(text))
        {
            return null;
        }

        if (text.All(char.IsAsciiDigit))
        {
            // More digits than fit are more than the longest wait too.
            var isShort = int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds);
            return isShort ? Bounded(Duration.FromSeconds(seconds)) : Longest;
        }

        return DateTime.TryParseExact(
            text, Dates, CultureInfo.InvariantCulture,
            DateTimeStyles.AllowInnerWhite | DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal,
            out var date)
            ? Bounded(Instant.FromDateTimeUtc(date) - now)
            : null;
    }

    private static Duration? Bounded(Duration wait) => wait <= Duration.Zero ? null : Duration.Min(wait, Longest);
}
