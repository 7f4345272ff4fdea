using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Releasekit.Client;

namespace Releasekit.Benchmarks;

/// <summary>
/// The real service as a process of its own, on a private cluster with fsync on, in a folder of its own.
/// </summary>
internal sealed class RunningService : IAsyncDisposable
{
    private readonly Process _process;

    private RunningService(Process process, string data, string address) =>
        (_process, Data, Address) = (process, data, address);

    /// <summary>The data folder.</summary>
    public string Data { get; }

    public string Address { get; }

    public int Id => _process.Id;

    public string Token => File.ReadAllText(Path.Combine(Data, "owner-token")).Trim();

    /// <summary>Where the cluster's socket lies.</summary>
    public string Socket => Path.Combine(Data, "run");

    public static string NewFolder() => Directory.CreateTempSubdirectory("releasekit-bench-").FullName;

    /// <summary>Starts it and waits until it answers.</summary>
    public static async Task<RunningService> Start(string? data = null)
    {
        var (folder, address) = (data ?? NewFolder(), $"http://127.0.0.1:{FreePort()}");
        var start = new ProcessStartInfo("dotnet", [ServerAssembly(), "--data", folder, "--urls", address])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        var service = new RunningService(Process.Start(start)!, folder, address);
        await service.UntilReady();
        return service;
    }

    public ReleasekitClient Connect() => ReleasekitClient.Connect(new Uri(Address), Token);

    public HttpClient ConnectPlainly()
    {
        var http = new HttpClient(new SocketsHttpHandler { UseProxy = false }) { BaseAddress = new Uri(Address) };
        http.DefaultRequestHeaders.Authorization = new("Bearer", Token);
        return http;
    }

    /// <summary>Resident memory of the service and of its database, in MiB.</summary>
    public (double Service, double Database) Memory()
    {
        var postmaster = File.ReadLines(Path.Combine(Data, "postgres", "postmaster.pid")).First();
        var servers = Directory.EnumerateDirectories("/proc")
            .Where(folder => ParentOf(folder) == postmaster || Path.GetFileName(folder) == postmaster);

        return (ResidentMiB($"/proc/{Id}", "VmRSS"), servers.Sum(folder => ResidentMiB(folder, "RssAnon")));
    }

    /// <summary>As kill -9 does.</summary>
    public void Kill()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            Process.Start("kill", ["-TERM", Id.ToString(CultureInfo.InvariantCulture)]).WaitForExit();
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
    }

    private static string ServerAssembly() => Environment.GetEnvironmentVariable("RELEASEKIT_SERVER")
        ?? throw new InvalidOperationException(
            "Run this through ops/bench or ops/crash: they say where the service is.");

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private static string? ParentOf(string folder)
    {
        try
        {
            return File.ReadAllText(Path.Combine(folder, "stat")) is { } stat
                ? stat[(stat.LastIndexOf(')') + 2)..].Split(' ')[1]
                : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static double ResidentMiB(string folder, string line) => File.ReadLines(Path.Combine(folder, "status"))
        .Where(text => text.StartsWith(line, StringComparison.Ordinal))
        .Select(
            text =>
                double.Parse(
                    text.Split(
                        (char[])[' ', '\t'],
                        StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture) / 1024)
        .FirstOrDefault();

    private async Task UntilReady()
    {
        while (await _process.StandardOutput.ReadLineAsync() is { } line)
        {
            if (line.StartsWith("ready ", StringComparison.Ordinal))
            {
                _ = _process.StandardOutput.ReadToEndAsync();
                _ = _process.StandardError.ReadToEndAsync();
                return;
            }
        }

        throw new InvalidOperationException(
            $"The service did not start: {await _process.StandardError.ReadToEndAsync()}");
    }
}
