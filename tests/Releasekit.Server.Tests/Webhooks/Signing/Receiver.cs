using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Releasekit.Server.Tests.Webhooks.Signing;

/// <summary>
/// A receiver as the text of Standard Webhooks 1.0.0 ("Verifying webhook authenticity") describes it, written apart
/// from what signs. Five minutes either way is what the reference libraries allow.
/// </summary>
internal static class Receiver
{
    private const long ToleranceSeconds = 300;

    public static bool Accepts(
        string secret, string? id, string? timestamp, string? signature, ReadOnlySpan<byte> body, Instant now)
    {
        if (id is null || signature is null
            || !long.TryParse(timestamp, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds)
            || Math.Abs(now.ToUnixTimeSeconds() - seconds) > ToleranceSeconds)
        {
            return false;
        }

        using var hash = IncrementalHash.CreateHMAC(
            HashAlgorithmName.SHA256, Convert.FromBase64String(secret.Replace("whsec_", "", StringComparison.Ordinal)));
        hash.AppendData(Encoding.UTF8.GetBytes($"{id}.{timestamp}."));
        hash.AppendData(body);
        var expected = Convert.ToBase64String(hash.GetHashAndReset());

        return signature.Split(' ').Any(one => one == $"v1,{expected}");
    }
}
