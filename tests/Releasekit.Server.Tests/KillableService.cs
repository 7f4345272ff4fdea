using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Releasekit.Client;
using Releasekit.Server.Startup;

namespace Releasekit.Server.Tests;

/// <summary>The real service as a process of its own, for tests of its death.</summary>
internal sealed class KillableService : IDisposable
{
    private readonly Process _process;

    /// <summary>A setting that asks for the demo; it is a flag, not an environment variable.</summary>
    public const string Demo = "demo";

    private KillableService(Process process, string address, string token) =>
        (_process, Address, Token, Client) =
            (process, address, token, ReleasekitClient.Connect(new(address), token));

    /// <summary>Where it answers.</summary>
    public string Address { get; }

    /// <summary>The owner's token.</summary>
    public string Token { get; }

    /// <summary>Holds the owner's token.</summary>
    public ReleasekitClient Client { get; }

    /// <summary>Starts it on a database that is there, and waits until it answers.</summary>
    /// <param name="token">The owner's; the one in the folder when left out.</param>
    /// <param name="settings">As environment variables.</param>
    public static async Task<KillableService> Start(
        string folder, string database, string? token = null, params (string Name, string Value)[] settings)
    {
        var address = $"http://127.0.0.1:{FreePort()}";
        var start = new ProcessStartInfo(
            "dotnet", [typeof(ServiceSettings).Assembly.Location, "--data", folder, "--urls", address])
        {
            RedirectStandardOutput = true,
            Environment = { ["ConnectionStrings__Postgres"] = database },
        };

        foreach (var (name, value) in settings)
        {
            if (name == Demo)
            {
                start.ArgumentList.Add("--demo");
                continue;
            }

            start.Environment[name] = value;
        }

        var process = Process.Start(start)!;

        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.StartsWith("ready ", StringComparison.Ordinal))
            {
                token ??= await File.ReadAllTextAsync(Path.Combine(folder, "owner-token"));
                _ = process.StandardOutput.ReadToEndAsync();
                return new(process, address, token.Trim());
            }
        }

        throw new InvalidOperationException("The service ended before it was ready.");
    }

    /// <summary>As kill -9 does.</summary>
    public void Kill()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            Kill();
        }

        _process.Dispose();
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
