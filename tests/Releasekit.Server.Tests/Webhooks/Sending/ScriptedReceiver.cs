using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace Releasekit.Server.Tests.Webhooks.Sending;

/// <summary>A receiver on loopback that answers as it is told, byte by byte, however wrong that is.</summary>
internal sealed class ScriptedReceiver : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _end = new();
    private readonly Func<Stream, CancellationToken, Task> _answer;
    private readonly X509Certificate2? _certificate;
    private readonly Task _listening;
    private int _connections;

    public ScriptedReceiver(Func<Stream, CancellationToken, Task> answer, X509Certificate2? certificate = null)
    {
        (_answer, _certificate) = (answer, certificate);
        _listener.Start();
        _listening = Listen();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    public string Url => $"{(_certificate is null ? "http" : "https")}://127.0.0.1:{Port}/hooks";

    public int Connections => _connections;

    /// <summary>Head and body of what came, oldest first.</summary>
    public ConcurrentQueue<(string Head, byte[] Body)> Requests { get; } = [];

    public static ScriptedReceiver Answering(string answer) =>
        new((stream, cancel) => stream.WriteAsync(Encoding.Latin1.GetBytes(answer), cancel).AsTask());

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        _listener.Dispose();
        await _listening.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        _end.Dispose();
    }

    private async Task Listen()
    {
        while (true)
        {
            var client = await _listener.AcceptTcpClientAsync(_end.Token);
            Interlocked.Increment(ref _connections);
            _ = Serve(client);
        }
    }

    private async Task Serve(TcpClient client)
    {
        using var connection = client;

        try
        {
            await using var stream = await Secured(client.GetStream());

            while (await ReadRequest(stream) is { } request)
            {
                Requests.Enqueue(request);
                await _answer(stream, _end.Token);
            }
        }
        catch (Exception gone) when (gone is IOException or OperationCanceledException
            or System.Security.Authentication.AuthenticationException)
        {
            // The other side hung up, which is what some of these tests are about.
        }
    }

    private async Task<Stream> Secured(Stream stream)
    {
        if (_certificate is null)
        {
            return stream;
        }

        var secure = new SslStream(stream);
        await secure.AuthenticateAsServerAsync(_certificate);
        return secure;
    }

    private async Task<(string Head, byte[] Body)?> ReadRequest(Stream stream)
    {
        var head = new List<byte>();
        var one = new byte[1];

        while (!Encoding.Latin1.GetString([.. head]).EndsWith("\r\n\r\n", StringComparison.Ordinal))
        {
            if (await stream.ReadAsync(one, _end.Token) == 0)
            {
                return null;
            }

            head.Add(one[0]);
        }

        var text = Encoding.Latin1.GetString([.. head]);
        var length = text.Split("\r\n").Single(line => line.StartsWith("Content-Length: ", StringComparison.Ordinal));
        var body = new byte[int.Parse(length.Split(' ')[1], CultureInfo.InvariantCulture)];
        await stream.ReadExactlyAsync(body, _end.Token);

        return (text, body);
    }
}
