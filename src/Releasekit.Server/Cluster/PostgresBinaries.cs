using System.Diagnostics;
using System.Text.RegularExpressions;

namespace Releasekit.Server.Cluster;

/// <summary>
/// PostgreSQL's programs on this machine. Looked for in this order; the first folder that has them wins:
/// the setting, <c>PGBIN</c>, <c>PATH</c> (links followed), the distributions' folders (newest first), Homebrew.
/// </summary>
internal sealed partial record PostgresBinaries(string Folder, int Major)
{
    public const int OldestMajor = 13;

    public string Server => Path.Combine(Folder, "postgres");

    public string InitDb => Path.Combine(Folder, "initdb");

    /// <param name="setting">A folder with the programs; nothing else is looked at when given.</param>
    /// <param name="major">The major of an existing cluster; null takes any from <see cref="OldestMajor"/>.</param>
    public static PostgresBinaries Find(string? setting, int? major = null)
    {
        var named = string.IsNullOrEmpty(setting) ? Environment.GetEnvironmentVariable("PGBIN") : setting;
        var found = (string.IsNullOrEmpty(named) ? UsualFolders() : [Path.GetFullPath(named)])
            .Distinct().Select(Examine).OfType<PostgresBinaries>().ToList();
        var usable = found.Find(one => major is null ? one.Major >= OldestMajor : one.Major == major);
        if (usable is not null)
        {
            return usable;
        }

        if (found.Count == 0)
        {
            throw new StartRefusal(string.IsNullOrEmpty(named)
                ? "No PostgreSQL was found: install it (Debian: apt-get install postgresql), name the folder of its "
                    + "programs in PGBIN, or name a server in ConnectionStrings__Postgres."
                : $"{named} has no PostgreSQL programs: PGBIN should name the folder of postgres and initdb.");
        }

        throw new StartRefusal(major is null
            ? $"PostgreSQL {found[0].Major} in {found[0].Folder} is too old: {OldestMajor} or newer is needed."
            : $"The data folder was made by PostgreSQL {major}, but found was {Majors(found)}: install PostgreSQL "
                + $"{major}, or move the data with that version's pg_dump.");
    }

    private static string Majors(List<PostgresBinaries> found) =>
        string.Join(" and ", found.Select(one => one.Major).Distinct());

    private static IEnumerable<string> UsualFolders()
    {
        foreach (var folder in (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':'))
        {
            // Debian links single programs into PATH; a cluster needs the folder they came from.
            var program = Path.Combine(folder, "postgres");
            if (Path.IsPathRooted(program) && File.Exists(program))
            {
                yield return Path.GetDirectoryName(File.ResolveLinkTarget(program, true)?.FullName ?? program)!;
            }
        }

        string[] homes = ["/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/usr/local/pgsql/bin"];
        string[] brewed = ["/opt/homebrew/opt/postgresql@*/bin", "/usr/local/opt/postgresql@*/bin"];
        foreach (var pattern in homes.Concat(brewed))
        {
            foreach (var folder in Expand(pattern))
            {
                yield return folder;
            }
        }
    }

    private static IEnumerable<string> Expand(string pattern)
    {
        var above = Path.GetDirectoryName(Path.GetDirectoryName(pattern))!;
        var name = Path.GetFileName(Path.GetDirectoryName(pattern))!;
        return !Directory.Exists(above) ? [] : Directory.EnumerateDirectories(above, name)
            .OrderByDescending(folder => int.TryParse(Number().Match(folder).Value, out var major) ? major : 0)
            .Select(folder => Path.Combine(folder, "bin"));
    }

    private static PostgresBinaries? Examine(string folder)
    {
        var server = Path.Combine(folder, "postgres");
        if (!File.Exists(server) || !File.Exists(Path.Combine(folder, "initdb")))
        {
            return null;
        }

        try
        {
            using var process = Process.Start(new ProcessStartInfo(server, "--version")
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            })!;
            var major = Number().Match(process.StandardOutput.ReadLine() ?? "").Value;
            process.WaitForExit();
            return int.TryParse(major, out var number) ? new(folder, number) : null;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null; // not for us to execute
        }
    }

    // The last number before any dot: of "postgresql@16", "/usr/lib/postgresql/15", "postgres (PostgreSQL) 15.20 (…)".
    [GeneratedRegex(@"(?<=[/@\s-])\d+(?=\.|\s|$|[a-z])")]
    private static partial Regex Number();
}
