using System.Security.Cryptography;
using Releasekit.Domain;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Server.Webhooks.Signing;

/// <summary>
/// What an endpoint's messages are signed with (Standard Webhooks 1.0.0, "Signature scheme"): HMAC-SHA256, the key in
/// base64 behind <c>whsec_</c>. It is written out only on purpose: <see cref="ToString"/> does not say it.
/// </summary>
internal sealed class SigningSecret
{
    private const string Prefix = "whsec_";
    private const int NewBytes = 32;
    private const int FewestBytes = 24;
    private const int MostBytes = 64;

    private readonly byte[] _key;

    private SigningSecret(byte[] key) => _key = key;

    /// <summary>A new secret of 32 random bytes.</summary>
    public static SigningSecret New() => new(RandomNumberGenerator.GetBytes(NewBytes));

    /// <summary>Reads a secret that was made elsewhere, or kept; null with a refusal that does not repeat it.</summary>
    /// <param name="text"><c>whsec_</c> and 24 to 64 bytes in base64: the plain alphabet, padded, as libraries disagree
    /// on anything else.</param>
    public static SigningSecret? TryParse(string? text, out Refusal? refusal)
    {
        refusal = null;

        if (text?.StartsWith(Prefix, StringComparison.Ordinal) is true && Decode(text[Prefix.Length..]) is { } key)
        {
            return new(key);
        }

        refusal = WebhookRefusals.Of(new Fault(
            "/secret",
            $"A secret is {Prefix} followed by {FewestBytes} to {MostBytes} random bytes in base64 (A-Z, a-z, 0-9, + "
            + "and /, padded with =). Leave it out and one is made."));
        return null;
    }

    /// <summary>The secret itself, for its owner and for the store.</summary>
    public string Reveal() => Prefix + Convert.ToBase64String(_key);

    /// <summary>The signature of a content.</summary>
    public byte[] Sign(ReadOnlySpan<byte> content) => HMACSHA256.HashData(_key, content);

    /// <summary>Whether it is the same, compared in constant time.</summary>
    public bool Is(SigningSecret other) => CryptographicOperations.FixedTimeEquals(_key, other._key);

    public override string ToString() => $"{Prefix}…";

    /// <summary>Null for anything but the one way of writing 24 to 64 bytes.</summary>
    private static byte[]? Decode(string text)
    {
        var key = new byte[MostBytes];

        return Convert.TryFromBase64String(text, key, out var length)
            && length >= FewestBytes && Convert.ToBase64String(key, 0, length) == text
            ? key[..length]
            : null;
    }
}
