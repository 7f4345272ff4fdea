using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>
/// Looks at the addresses behind a name in the moment they are dialled, and dials no other: a name that is checked
/// first and looked up again would let another address slip in. One address that is refused refuses the name.
/// </summary>
/// <param name="allowsLoopback">Whether this machine may be dialled.</param>
/// <param name="ownPorts">The ports this service itself listens at: it is never sent its own messages.</param>
/// <param name="lookUp">The addresses behind a name; null for the resolver of this machine.</param>
internal sealed class AddressGuard(
    bool allowsLoopback,
    Func<IReadOnlyCollection<int>> ownPorts,
    Func<string, CancellationToken, Task<IPAddress[]>>? lookUp = null)
{
    /// <summary>Where the dialled address is noted, for the record of the attempt.</summary>
    public static readonly HttpRequestOptionsKey<IPAddress> Dialled = new("dialled");

    private readonly Func<string, CancellationToken, Task<IPAddress[]>> _lookUp = lookUp ?? Dns.GetHostAddressesAsync;

    /// <summary>Opens a connection, as a connect callback of the client.</summary>
    public async ValueTask<Stream> Connect(SocketsHttpConnectionContext context, CancellationToken cancel)
    {
        var port = context.DnsEndPoint.Port;
        var addresses = await Resolve(context.DnsEndPoint.Host, port, cancel);
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };

        try
        {
            await socket.ConnectAsync(addresses, port, cancel);
            var dialled = GlobalAddresses.Plain(((IPEndPoint)socket.RemoteEndPoint!).Address);
            context.InitialRequestMessage.Options.Set(Dialled, dialled);

            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    /// <summary>The addresses behind a name, every one of them allowed.</summary>
    /// <exception cref="AddressRefusedException">One of them is not.</exception>
    /// <exception cref="SocketException">The name has none.</exception>
    public async Task<IPAddress[]> Resolve(string host, int port, CancellationToken cancel)
    {
        var found = IPAddress.TryParse(host, out var numeric) ? [numeric] : await _lookUp(host, cancel);
        var addresses = found.Select(GlobalAddresses.Plain).ToArray();

        if (addresses.Length == 0)
        {
            throw new SocketException((int)SocketError.HostNotFound);
        }

        return addresses.FirstOrDefault(address => !IsAllowed(address, port)) is { } refused
            ? throw new AddressRefusedException(refused)
            : addresses;
    }

    private bool IsAllowed(IPAddress address, int port) =>
        (IPAddress.IsLoopback(address) ? allowsLoopback : GlobalAddresses.Contains(address))
        && !(ownPorts().Contains(port) && IsOfThisMachine(address));

    private static bool IsOfThisMachine(IPAddress address) => IPAddress.IsLoopback(address)
        || NetworkInterface.GetAllNetworkInterfaces()
            .SelectMany(network => network.GetIPProperties().UnicastAddresses)
            .Any(own => own.Address.Equals(address));
}

/// <summary>A name leads to an address that messages may not be sent to.</summary>
/// <param name="address">Not told to the owner of the endpoint: it says how a network looks inside.</param>
internal sealed class AddressRefusedException(IPAddress address)
    : IOException($"The address {address} is not one that messages may be sent to.");
