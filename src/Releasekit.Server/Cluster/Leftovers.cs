using System.Globalization;

namespace Releasekit.Server.Cluster;

/// <summary>
/// What a killed service or server left behind: a server that still runs, parts of one, a pid file that names some
/// other process. The kernel is asked, not the pid file: a process is ours when it runs <c>postgres</c> and works in
/// our folder. Only once none is left may the pid file go, since it also guards the shared memory of such parts.
/// </summary>
internal static class Leftovers
{
    private static readonly (int Signal, TimeSpan Patience)[] Asking =
    [
        (Posix.Interrupt, TimeSpan.FromSeconds(30)),
        (Posix.Quit, TimeSpan.FromSeconds(10)),
        (Posix.Kill, TimeSpan.FromSeconds(10)),
    ];

    public static async Task Clear(string cluster, Action<string> say, CancellationToken cancel)
    {
        if (!Directory.Exists("/proc/self"))
        {
            return; // other systems: the server's own check of its pid file must do
        }

        var left = LivingIn(cluster);
        if (left.Count > 0)
        {
            say("A PostgreSQL of an earlier run still works in the data folder; it is stopped first.");
        }

        foreach (var (signal, patience) in Asking)
        {
            Ask(signal, left, PostmasterOf(cluster));
            left = await WaitUntilGone(cluster, left.Count > 0 ? patience : TimeSpan.Zero, cancel);
        }

        if (left.Count > 0)
        {
            throw new StartRefusal($"PostgreSQL with process id {left[0]} works in {cluster} and cannot be stopped: "
                + "stop it by hand and start again.");
        }

        File.Delete(Path.Combine(cluster, "postmaster.pid"));
    }

    /// <summary>The process id in the cluster's pid file, alive or not; null without one.</summary>
    public static int? PostmasterOf(string cluster)
    {
        try
        {
            var first = File.ReadLines(Path.Combine(cluster, "postmaster.pid")).FirstOrDefault();
            return int.TryParse(first, CultureInfo.InvariantCulture, out var id) ? id : null;
        }
        catch (IOException)
        {
            return null;
        }
    }

    /// <summary>Processes that serve this cluster: its postmaster, its children, or children without one.</summary>
    public static List<int> LivingIn(string cluster)
    {
        var ours = Posix.Look(cluster)?.Identity;
        return [.. Directory.EnumerateDirectories("/proc")
            .Select(folder => int.TryParse(Path.GetFileName(folder), out var id) ? id : 0)
            .Where(id => id > 1 && IsPostgres(id) && ours is not null && WorksIn(id) == ours)];
    }

    private static (ulong, ulong)? WorksIn(int id) => Posix.Look($"/proc/{id}/cwd")?.Identity;

    private static void Ask(int signal, List<int> left, int? postmaster)
    {
        // An interrupt means "shut down" to the postmaster only; to its children it means "cancel the query".
        foreach (var id in left.Where(id => signal != Posix.Interrupt || id == postmaster))
        {
            Posix.Signal(id, signal);
        }
    }

    private static async Task<List<int>> WaitUntilGone(string cluster, TimeSpan patience, CancellationToken cancel)
    {
        var until = Environment.TickCount64 + patience.TotalMilliseconds;
        var left = LivingIn(cluster);
        while (left.Count > 0 && Environment.TickCount64 < until)
        {
            await Task.Delay(50, cancel);
            left = LivingIn(cluster);
        }

        return left;
    }

    private static bool IsPostgres(int id)
    {
        try
        {
            // After an upgrade of the package the kernel adds " (deleted)" to the name.
            var program = Path.GetFileName(new FileInfo($"/proc/{id}/exe").LinkTarget);
            return program is not null && program.Split(' ')[0] == "postgres";
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return false; // gone meanwhile, or another user's and so not ours
        }
    }
}
