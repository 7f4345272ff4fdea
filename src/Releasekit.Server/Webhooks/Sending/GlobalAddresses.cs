using System.Net;
using System.Net.Sockets;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>
/// Which addresses belong to somebody else on the open internet. Everything that the IANA registries of special-purpose
/// addresses list is left out, tunnels and translations too, whatever address they hold: they could lead back inside.
/// </summary>
internal static class GlobalAddresses
{
    /// <summary>IPv4 that is not global unicast: RFC 6890 and the registry that keeps it.</summary>
    private static readonly IPNetwork[] Special4 = Networks(
        "0.0.0.0/8", // this network
        "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", // private (RFC 1918)
        "100.64.0.0/10", // shared by carriers (RFC 6598)
        "127.0.0.0/8", // loopback
        "169.254.0.0/16", // link-local, where clouds keep their metadata
        "192.0.0.0/24", // protocol assignments
        "192.0.2.0/24", "198.51.100.0/24", "203.0.113.0/24", // documentation
        "192.88.99.0/24", // relays of 6to4
        "198.18.0.0/15", // benchmarks
        "224.0.0.0/4", // multicast
        "240.0.0.0/4"); // reserved, and broadcast

    /// <summary>All of IPv6 that is given out as global unicast (RFC 4291).</summary>
    private static readonly IPNetwork Unicast6 = IPNetwork.Parse("2000::/3");

    /// <summary>What lies in it and is not.</summary>
    private static readonly IPNetwork[] Special6 = Networks(
        "2001::/23", // protocol assignments: Teredo, benchmarks, ORCHID
        "2001:db8::/32", "3fff::/20", // documentation
        "2002::/16"); // 6to4

    public static bool Contains(IPAddress address)
    {
        var plain = Plain(address);

        return plain.AddressFamily is AddressFamily.InterNetwork
            ? !Special4.Any(network => network.Contains(plain))
            : Unicast6.Contains(plain) && !Special6.Any(network => network.Contains(plain));
    }

    /// <summary>IPv4 that is written as IPv6 (<c>::ffff:…</c>) as what it is.</summary>
    public static IPAddress Plain(IPAddress address) => address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;

    private static IPNetwork[] Networks(params string[] networks) => [.. networks.Select(IPNetwork.Parse)];
}
