using System.Net;
using System.Net.Sockets;

namespace Releasekit.Server.Cluster;

/// <summary>The addresses the service is asked to answer on, tried before anything else is touched.</summary>
internal static class Listening
{
    /// <param name="urls">Separated by semicolons, each <c>http://host:port</c>; port 0 means any free one.</param>
    /// <exception cref="StartRefusal">An address is malformed, taken, not of this machine, or not for us.</exception>
    public static void RefuseIfTaken(string urls)
    {
        foreach (var url in urls.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var (host, port) = Parse(url);
            foreach (var address in Addresses(host))
            {
                Try(url, new IPEndPoint(address, port));
            }
        }
    }

    private static (string Host, int Port) Parse(string url)
    {
        // Kestrel's own words for "every address" are no host names.
        var plain = url.Replace("//*", "//0.0.0.0", StringComparison.Ordinal)
            .Replace("//+", "//0.0.0.0", StringComparison.Ordinal);
        return Uri.TryCreate(plain, UriKind.Absolute, out var uri) && uri.Scheme == "http" && uri.PathAndQuery == "/"
            ? (uri.DnsSafeHost, uri.Port)
            : throw new StartRefusal($"\"{url}\" is no address to listen on: write it as http://127.0.0.1:5080.");
    }

    private static IPAddress[] Addresses(string host) =>
        IPAddress.TryParse(host, out var address) ? [address]
        : host == "localhost" ? [IPAddress.Loopback]
        : [IPAddress.Any]; // any other name makes Kestrel listen on every address

    private static void Try(string url, IPEndPoint end)
    {
        try
        {
            using var listener = new TcpListener(end);
            listener.Start();
        }
        catch (SocketException failure)
        {
            throw new StartRefusal(failure.SocketErrorCode switch
            {
                SocketError.AddressAlreadyInUse =>
                    $"{end} is already in use: stop what listens there, or choose another with --urls.",
                SocketError.AccessDenied =>
                    $"{end} is not for this user to listen on: choose a port from 1024 with --urls.",
                _ => $"{url} cannot be listened on ({failure.Message}): choose an address of this machine with --urls.",
            }, failure);
        }
    }
}
