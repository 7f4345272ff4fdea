namespace Releasekit.Server.Webhooks.Sending;

/// <summary>
/// Which ports may be named: 443, and from 1024 up those that no other protocol is known to listen at.
/// </summary>
internal static class TargetPorts
{
    private const int FirstFree = 1_024;

    /// <summary>The "bad ports" of the Fetch standard from 1024 up (from memory).</summary>
    private static readonly int[] OfOthers =
    [
        1_719, 1_720, 1_723, 2_049, 3_659, 4_045, 4_190, 5_060, 5_061, 6_000, 6_566, 6_665, 6_666, 6_667, 6_668, 6_669,
        6_679, 6_697, 10_080,
    ];

    /// <summary>What is wrong with the port; null when nothing is.</summary>
    public static string? FaultOf(Uri address, bool allowsLoopback) =>
        address.Port is 443 || (address.Port >= FirstFree && !OfOthers.Contains(address.Port))
        || (allowsLoopback && address.Port is 80 && TargetHosts.IsLoopback(address))
            ? null
            : $"Port {address.Port} belongs to another protocol; 443 and those from {FirstFree} up are accepted.";
}
