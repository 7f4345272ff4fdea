using System.Collections.Concurrent;
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
    private static readonly ConcurrentDictionary<RunningService, bool> Living = new();

    /// <summary>USER_HZ: what Linux shows in proc(5) on every usual machine.</summary>
    private const double TicksASecond = 100;

    private readonly Process _process;
    private readonly BenchFolder? _own;
    private readonly ConcurrentQueue<string> _complaints = [];
    private readonly Lazy<Task> _end;

    private RunningService(Process process, string data, BenchFolder? own, string address)
    {
        (_process, Data, _own, Address, _end) = (process, data, own, address, new(End));
        _process.ErrorDataReceived += (_, line) => _complaints.Enqueue(line.Data ?? string.Empty);
        _process.BeginErrorReadLine();
        Living.TryAdd(this, true);
    }

    /// <summary>The data folder.</summary>
    public string Data { get; }

    public string Address { get; }

    public int Id => _process.Id;

    public bool HasEnded => _process.HasExited;

    /// <summary>Of a service that has ended.</summary>
    public int ExitCode => _process.ExitCode;

    /// <summary>What it wrote to its output until it was ready.</summary>
    public IReadOnlyList<string> Said { get; private set; } = [];

    /// <summary>What it wrote to its error stream so far.</summary>
    public string Complaints => string.Join('\n', _complaints).Trim();

    public string Token => File.ReadAllText(Path.Combine(Data, "owner-token")).Trim();

    /// <summary>Where the cluster's socket lies.</summary>
    public string Socket => Path.Combine(Data, "run");

    /// <summary>The first process of its PostgreSQL.</summary>
    public int Postmaster => int.Parse(
        File.ReadLines(Path.Combine(Data, "postgres", "postmaster.pid")).First(), CultureInfo.InvariantCulture);

    /// <summary>Starts it and waits until it says that it is ready.</summary>
    /// <param name="data">The data folder; one of its own, deleted at the end, when left out.</param>
    /// <param name="command">What to start, such as <c>ops/run</c>; the built service when left out.</param>
    /// <param name="flags">More flags.</param>
    public static async Task<RunningService> Start(
        string? data = null, string? command = null, IEnumerable<string>? flags = null)
    {
        Interruption.RefuseNew();
        var own = data is null ? new BenchFolder() : null;
        var (folder, address) = (data ?? own!.Path, $"http://127.0.0.1:{FreePort()}");
        string[] words = command is null ? ["dotnet", Named("RELEASEKIT_SERVER")] : [command];
        var start = new ProcessStartInfo(words[0], [.. words[1..], "--data", folder, "--urls", address, .. flags ?? []])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        var service = new RunningService(Process.Start(start)!, folder, own, address);

        try
        {
            await service.UntilReady();
            return service;
        }
        catch
        {
            await service.DisposeAsync();
            throw;
        }
    }

    /// <summary>Stops whatever still runs: for Ctrl-C.</summary>
    public static async Task StopAll()
    {
        while (Living.Keys.FirstOrDefault() is { } service)
        {
            await service._end.Value;
        }
    }

    /// <summary>What the scripts under <c>ops</c> hand over by that name.</summary>
    public static string Named(string variable) => Environment.GetEnvironmentVariable(variable)
        ?? throw new InvalidOperationException(
            "Run this through ops/bench or ops/crash: they say where everything is.");

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
        int[] servers = [Postmaster, .. ChildrenOf(Postmaster)];

        return (ResidentMiB(Id, "VmRSS"), servers.Sum(server => ResidentMiB(server, "RssAnon")));
    }

    /// <summary>What the service and its database have computed so far; sessions that ended are not counted.</summary>
    public (double Service, double Database) ProcessorSeconds()
    {
        int[] servers = [Postmaster, .. ChildrenOf(Postmaster)];

        return (TicksOf(Id) / TicksASecond, servers.Sum(TicksOf) / TicksASecond);
    }

    /// <summary>As kill -9 does.</summary>
    public void Kill()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    public async ValueTask DisposeAsync()
    {
        await _end.Value;
        _process.Dispose();
        _own?.Dispose();
    }

    /// <summary>Processes that this one started.</summary>
    public static IEnumerable<int> ChildrenOf(int parent) => Directory.EnumerateDirectories("/proc")
        .Select(folder => int.TryParse(Path.GetFileName(folder), CultureInfo.InvariantCulture, out var id) ? id : 0)
        .Where(id => id > 0 && ParentOf(id) == parent);

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private static int? ParentOf(int id) =>
        StatOf(id) is { } stat ? int.Parse(stat[1], CultureInfo.InvariantCulture) : null;

    /// <summary>User and system time, the 14th and 15th field of proc(5).</summary>
    private static double TicksOf(int id) => StatOf(id) is { } stat
        ? double.Parse(stat[11], CultureInfo.InvariantCulture) + double.Parse(stat[12], CultureInfo.InvariantCulture)
        : 0;

    /// <summary>The fields of /proc/id/stat from the third on; null for a process that ended.</summary>
    private static string[]? StatOf(int id)
    {
        try
        {
            var stat = File.ReadAllText($"/proc/{id}/stat");
            return stat[(stat.LastIndexOf(')') + 2)..].Split(' ');
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static double ResidentMiB(int id, string line) => File.ReadLines($"/proc/{id}/status")
        .Where(text => text.StartsWith(line, StringComparison.Ordinal))
        .Select(text => text.Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries)[1])
        .Select(kibibytes => double.Parse(kibibytes, CultureInfo.InvariantCulture) / 1024)
        .FirstOrDefault();

    private async Task End()
    {
        if (!_process.HasExited)
        {
            Process.Start("kill", ["-TERM", Id.ToString(CultureInfo.InvariantCulture)]).WaitForExit();
            await _process.WaitForExitAsync();
        }

        Living.TryRemove(this, out _);
    }

    private async Task UntilReady()
    {
        var said = new List<string>();

        while (await _process.StandardOutput.ReadLineAsync() is { } line)
        {
            said.Add(line);
            Said = said;

            if (line.StartsWith("ready ", StringComparison.Ordinal))
            {
                _ = _process.StandardOutput.ReadToEndAsync();
                return;
            }
        }

        await _process.WaitForExitAsync();
        throw new InvalidOperationException($"The service did not start: {Complaints}");
    }
}
