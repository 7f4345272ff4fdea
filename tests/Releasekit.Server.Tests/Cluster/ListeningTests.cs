using System.Net;
using System.Net.Sockets;
using Releasekit.Server.Cluster;

namespace Releasekit.Server.Tests.Cluster;

public class ListeningTests
{
    [Theory]
    [InlineData("127.0.0.1")]
    [InlineData("localhost")]
    public void A_taken_port_is_refused(string host)
    {
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        var port = ((IPEndPoint)other.LocalEndpoint).Port;

        var refusal = Assert.Throws<StartRefusal>(() => Listening.RefuseIfTaken($"http://{host}:{port}"));

        Assert.Contains($":{port} is already in use", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("http://127.0.0.1:0")]
    [InlineData("http://localhost:0;http://*:0;http://[::1]:0")]
    public void A_free_port_is_not_refused(string urls) => Listening.RefuseIfTaken(urls);

    [Theory]
    [InlineData("5080")]
    [InlineData("https://127.0.0.1:5080")]
    [InlineData("http://127.0.0.1:5080/base")]
    [InlineData("http://127.0.0.1:99999")]
    [InlineData("http://192.0.2.1:5080")]
    public void What_is_no_address_of_this_machine_is_refused(string url) =>
        Assert.Throws<StartRefusal>(() => Listening.RefuseIfTaken(url));
}
