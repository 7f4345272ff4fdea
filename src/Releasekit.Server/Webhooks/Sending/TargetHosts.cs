using System.Net;
using System.Text.RegularExpressions;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>Which hosts may be named in an address, by what the parser made of it, never by its text.</summary>
internal static partial class TargetHosts
{
    private const int LongestName = 253;

    /// <summary>
    /// Names that are only known inside a network: RFC 6761, 6762, 7686, 8375 and 9476 (from memory), and common
    /// practice.
    /// </summary>
    private static readonly string[] Inside =
    [
        "localhost", "local", "internal", "intranet", "private", "corp", "home", "lan", "home.arpa", "onion", "alt",
        "invalid", "test",
    ];

    /// <summary>What is wrong with the host; null when nothing is.</summary>
    public static string? FaultOf(Uri address, bool allowsLoopback)
    {
        if (allowsLoopback && IsLoopback(address))
        {
            return null;
        }

        if (IPAddress.TryParse(address.IdnHost, out var numeric))
        {
            return GlobalAddresses.Contains(numeric)
                ? null
                : "This is an address inside a network; messages go to public ones only.";
        }

        var name = address.IdnHost.ToLowerInvariant();

        return Inside.Any(inside => name == inside || name.EndsWith($".{inside}", StringComparison.Ordinal))
            || !name.Contains('.')
            ? "This name is only known inside a network; messages go to public ones only."
            : name.Length > LongestName || !PublicName().IsMatch(name)
                ? "This is no public name of a host; one is accepted such as tools.example.com."
                : null;
    }

    /// <summary>Whether this machine is named, by number or as localhost.</summary>
    public static bool IsLoopback(Uri address) =>
        address.IdnHost is "localhost"
        || (IPAddress.TryParse(address.IdnHost, out var numeric)
            && IPAddress.IsLoopback(GlobalAddresses.Plain(numeric)));

    /// <summary>Labels of RFC 1123, the last of which is no number.</summary>
    [GeneratedRegex(@"\A(?:[a-z0-9](?:[a-z0-9-]{0,61}[a-z0-9])?\.)+[a-z](?:[a-z0-9-]{0,61}[a-z0-9])\z")]
    private static partial Regex PublicName();
}
