using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace Releasekit.Server.Access;

/// <summary>A token as it is kept: never the token itself, only its digest.</summary>
/// <param name="Id">The first half of the digest, so that a token finds its
/// document without an index of secrets.</param>
/// <param name="Digest">SHA-256 of the token, hexadecimal. Plain is right here: the token has 256 random bits.</param>
internal sealed record AccessToken(
    Guid Id,
    string Digest,
    string Publisher,
    string Name,
    IReadOnlyList<Scope> Scopes,
    Instant CreatedAt,
    Instant? LastUsedAt = null)
{
    /// <summary>Whether <paramref name="secret"/> is this token, compared in constant time.</summary>
    public bool Is(string secret) => CryptographicOperations.FixedTimeEquals(
        Encoding.ASCII.GetBytes(Digest), Encoding.ASCII.GetBytes(Secrets.DigestOf(secret)));
}

/// <summary>Secrets of 256 random bits, written in 43 characters that are safe in URLs and headers.</summary>
internal static class Secrets
{
    private const int Bytes = 32;

    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    public static string DigestOf(string secret) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    /// <summary>What a document kept by a secret is called.</summary>
    public static Guid IdOf(string secret) =>
        new(SHA256.HashData(Encoding.UTF8.GetBytes(secret)).AsSpan(0, 16), bigEndian: true);
}
