namespace Releasekit.Server.Cluster;

/// <summary>A running PostgreSQL server of our own, from its first process to its last.</summary>
internal sealed class Postmaster
{
    private readonly BoundChild _child;
    private readonly string _cluster;

    private Postmaster(BoundChild child, string cluster) => (_child, _cluster) = (child, cluster);

    public int Id => _child.Id;

    /// <summary>The folder of the server's logs.</summary>
    public string Logs => Path.Combine(_cluster, "log");

    public Task<int> Exited => _child.Exited;

    public static async Task<Postmaster> Start(
        string cluster, string socketFolder, PostgresBinaries binaries, ServerAccount account)
    {
        var settings = Settings(socketFolder).SelectMany(setting => new[] { "-c", $"{setting.Name}={setting.Value}" });
        var child = await BoundChild.Start(account, binaries.Server, ["-D", cluster, .. settings]);
        return new(child, cluster);
    }

    /// <summary>Waits until the server takes connections; after a crash it first replays its log.</summary>
    public async Task WaitUntilReady(Action<string> say, CancellationToken cancel)
    {
        var began = Environment.TickCount64;
        var said = false;
        while (!IsReady())
        {
            if (Exited.IsCompleted)
            {
                throw ServerWords.Refuse("PostgreSQL did not start", LastWords(), Logs);
            }

            if (!said && Environment.TickCount64 - began > 5000)
            {
                said = true;
                say("PostgreSQL is still starting; after a crash it first replays its log.");
            }

            await Task.Delay(20, cancel);
        }
    }

    /// <summary>Ends sessions, writes everything, and waits; a server that hangs is ended as by a power cut.</summary>
    public async Task Stop()
    {
        foreach (var (signal, seconds) in new[] { (Posix.Interrupt, 60), (Posix.Quit, 10), (Posix.Kill, 10) })
        {
            if (!Exited.IsCompleted)
            {
                Posix.Signal(Id, signal);
                await Task.WhenAny(Exited, Task.Delay(TimeSpan.FromSeconds(seconds)));
            }
        }
    }

    /// <summary>Given on the command line, where they win over whatever the folder's files say.</summary>
    private static IEnumerable<(string Name, string Value)> Settings(string socketFolder) =>
    [
        ("listen_addresses", ""),
        ("port", $"{SocketFolder.Port}"),
        ("unix_socket_directories", $"\"{socketFolder}\""),
        ("unix_socket_permissions", "0700"),
        ("fsync", "on"),
        ("full_page_writes", "on"),
        ("synchronous_commit", "on"),
        ("timezone", "UTC"),
        ("log_timezone", "UTC"),
        ("max_connections", "200"),
        ("shared_buffers", "64MB"),
        ("max_wal_size", "512MB"),
        ("jit", "off"),
        // A week of logs, overwritten in turn.
        ("logging_collector", "on"),
        ("log_directory", "log"),
        ("log_filename", "postgres-%a.log"),
        ("log_file_mode", "0600"),
        ("log_rotation_age", "1d"),
        ("log_truncate_on_rotation", "on"),
    ];

    /// <summary>What the server said on its error stream, then what it has logged since it was started.</summary>
    private string LastWords()
    {
        var newest = new DirectoryInfo(Logs) is { Exists: true } folder
            ? folder.EnumerateFiles().MaxBy(file => file.LastWriteTimeUtc) : null;
        var lines = newest is null ? [] : File.ReadAllLines(newest.FullName);
        var start = Array.FindLastIndex(lines, line => line.Contains("starting PostgreSQL", StringComparison.Ordinal));
        return _child.Said + string.Join('\n', lines.Skip(start + 1));
    }

    private bool IsReady()
    {
        try
        {
            // Line 1 is the process id, line 8 the state, as pg_ctl reads it.
            var lines = File.ReadAllLines(Path.Combine(_cluster, "postmaster.pid"));
            return lines.Length >= 8 && lines[0] == $"{Id}" && lines[7].StartsWith("ready", StringComparison.Ordinal);
        }
        catch (IOException)
        {
            return false;
        }
    }
}
