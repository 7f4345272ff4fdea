using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Releasekit.Server.Webhooks.Sending;

namespace Releasekit.Server.Tests.Webhooks.Sending;

/// <summary>
/// Which addresses are global, against the ipaddress module of Python's standard library, which follows the IANA
/// registries of special-purpose addresses.
/// </summary>
public class GlobalAddressesTests
{
    private const string Python = "/usr/bin/python3";

    private static readonly string[] Networks =
    [
        "0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12", "192.0.0.0/24",
        "192.0.2.0/24", "192.88.99.0/24", "192.168.0.0/16", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24",
        "224.0.0.0/4", "240.0.0.0/4", "::/96", "::ffff:0:0/96", "64:ff9b::/96", "64:ff9b:1::/48", "100::/64",
        "2001::/32", "2001:2::/48", "2001:10::/28", "2001:db8::/32", "2002::/16", "2000::/3", "3fff::/20", "5f00::/16",
        "fc00::/7", "fe80::/10", "fec0::/10", "ff00::/8",
    ];

    /// <summary>Global by the registries, and refused all the same: they may lead elsewhere, or to many.</summary>
    private static readonly IPNetwork[] Stricter =
    [
        .. new[] { "192.0.0.0/24", "192.88.99.0/24", "224.0.0.0/4", "2001::/23", "2002::/16" }
            .Select(IPNetwork.Parse),
    ];

    [Fact]
    public async Task Nothing_is_dialled_that_the_registries_do_not_call_global()
    {
        var random = new Random(20260305);
        var addresses = Networks.Select(IPNetwork.Parse).SelectMany(Edges)
            .Concat(Enumerable.Range(0, 4_000).Select(i => Random(random, i % 2 == 0 ? 4 : 16)))
            .Concat(Enumerable.Range(0, 2_000).Select(_ => Random(random, 16, first: 0x20)))
            .ToArray();

        var isGlobal = await AskPython(addresses);

        Assert.All(addresses.Zip(isGlobal), pair =>
        {
            var (address, global) = pair;
            var mayBeStricter = Stricter.Any(network => network.Contains(GlobalAddresses.Plain(address)))
                || (GlobalAddresses.Plain(address).AddressFamily is AddressFamily.InterNetworkV6
                    && !IPNetwork.Parse("2000::/3").Contains(address))
                || IPNetwork.Parse("3fff::/20").Contains(address); // younger than many a Python

            Assert.Equal(global && !mayBeStricter, GlobalAddresses.Contains(address));
        });
        Assert.InRange(addresses.Count(GlobalAddresses.Contains), 2_000, addresses.Length);
    }

    [Theory]
    [InlineData("::ffff:93.184.216.34", true)]
    [InlineData("::ffff:10.0.0.1", false)]
    [InlineData("fe80::1%1", false)]
    public void An_address_within_another_counts(string address, bool expected) =>
        Assert.Equal(expected, GlobalAddresses.Contains(IPAddress.Parse(address)));

    /// <summary>The first and last address of a network, and their neighbours outside.</summary>
    private static IEnumerable<IPAddress> Edges(IPNetwork network)
    {
        var first = network.BaseAddress.GetAddressBytes();
        var last = first.Select((b, i) => (byte)(b | ~Mask(network.PrefixLength, i))).ToArray();

        return new[] { first, last, Step(first, -1), Step(last, 1) }.Select(bytes => new IPAddress(bytes));
    }

    private static byte Mask(int prefix, int index) =>
        (byte)(0xFF00 >> Math.Clamp(prefix - (index * 8), 0, 8) & 0xFF);

    private static byte[] Step(byte[] address, int by)
    {
        var stepped = address.ToArray();

        for (var i = stepped.Length - 1; i >= 0; i--)
        {
            stepped[i] = (byte)(stepped[i] + by);

            if (stepped[i] != (by > 0 ? 0 : 255))
            {
                break;
            }
        }

        return stepped;
    }

    private static IPAddress Random(Random random, int length, byte? first = null)
    {
        var bytes = new byte[length];
        random.NextBytes(bytes);
        bytes[0] = first ?? bytes[0];

        return new(bytes);
    }

    private static async Task<bool[]> AskPython(IPAddress[] addresses)
    {
        const string program = """
            import ipaddress, sys
            for line in sys.stdin:
                a = ipaddress.ip_address(line.strip())
                print((getattr(a, "ipv4_mapped", None) or a).is_global)
            """;
        using var python = Process.Start(new ProcessStartInfo(Python, ["-c", program])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        })!;
        var answer = python.StandardOutput.ReadToEndAsync();
        await python.StandardInput.WriteAsync(string.Join('\n', addresses.Select(address => $"{address}")));
        python.StandardInput.Close();
        await python.WaitForExitAsync();

        return [.. (await answer).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(bool.Parse)];
    }
}
