using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Releasekit.Server.Webhooks.Signing;

/// <summary>
/// The three headers of a message (Standard Webhooks 1.0.0, "Webhook headers"). What is signed are the bytes that are
/// sent, with the id and the time of the attempt before them.
/// </summary>
/// <param name="Id">The same for every attempt.</param>
/// <param name="Timestamp">When this attempt is made, in whole seconds since 1970, UTC.</param>
/// <param name="Signature">One signature, or several parted by spaces; a receiver accepts any of them.</param>
internal sealed partial record SignedHeaders(string Id, string Timestamp, string Signature)
{
    public const string IdName = "webhook-id";
    public const string TimestampName = "webhook-timestamp";
    public const string SignatureName = "webhook-signature";

    /// <param name="id"><c>msg_</c> and letters, digits, hyphens and low lines: a full stop would let one message pass
    /// for another.</param>
    /// <param name="at">When the attempt is made, UTC.</param>
    /// <param name="body">The very bytes that are sent.</param>
    /// <exception cref="ArgumentException">The id is none.</exception>
    public static SignedHeaders Of(string id, Instant at, ReadOnlySpan<byte> body, SigningKeys keys)
    {
        if (!MessageId().IsMatch(id))
        {
            throw new ArgumentException($"'{id}' is no id of a message.", nameof(id));
        }

        var timestamp = at.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        byte[] content = [.. Encoding.ASCII.GetBytes($"{id}.{timestamp}."), .. body];
        var signatures = keys.At(at).Select(secret => $"v1,{Convert.ToBase64String(secret.Sign(content))}");

        return new(id, timestamp, string.Join(' ', signatures));
    }

    [GeneratedRegex(@"\Amsg_[A-Za-z0-9_-]+\z")]
    private static partial Regex MessageId();
}
