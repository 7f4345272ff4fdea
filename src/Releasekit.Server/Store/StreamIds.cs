using System.Security.Cryptography;
using System.Text;

namespace Releasekit.Server.Store;

/// <summary>Stream ids that follow from names, so that a slug finds its stream and cannot be taken twice.</summary>
internal static class StreamIds
{
    public static Guid OfSeries(string slug) => FromName($"series:{slug}");

    /// <summary>A UUID of version 8 (RFC 9562, 5.8) made of a SHA-256 digest.</summary>
    private static Guid FromName(string name)
    {
        var digest = SHA256.HashData(Encoding.UTF8.GetBytes(name)).AsSpan(0, 16);
        digest[6] = (byte)((digest[6] & 0x0F) | 0x80);
        digest[8] = (byte)((digest[8] & 0x3F) | 0x80);
        return new Guid(digest, bigEndian: true);
    }
}
