using System.Security.Cryptography;
using System.Text;

namespace Releasekit.Server.Cluster;

/// <summary>
/// The folder of the server's unix socket, open to the server's account (and root) alone: it is the only door to the
/// database. A socket's path has at most 107 bytes, so a long data folder gets a short one under the temp folder.
/// </summary>
internal static class SocketFolder
{
    public const int Port = 5432;

    private const int LongestPath = 107;

    /// <summary>Makes the folder where it is missing and clears what a killed server left in it.</summary>
    public static string Open(string dataFolder, ServerAccount account)
    {
        var folder = For(dataFolder, account);
        account.OwnFolder(folder);
        foreach (var left in Directory.EnumerateFiles(folder, $".s.PGSQL.{Port}*"))
        {
            File.Delete(left);
        }

        return folder;
    }

    /// <summary>After a stop: takes a folder away that was made under the temp folder.</summary>
    public static void Remove(string dataFolder, ServerAccount account)
    {
        var folder = For(dataFolder, account);
        if (!folder.StartsWith(dataFolder, StringComparison.Ordinal) && Directory.Exists(folder)
            && !Directory.EnumerateFileSystemEntries(folder).Any())
        {
            Directory.Delete(folder);
        }
    }

    private static string For(string dataFolder, ServerAccount account)
    {
        var beside = Path.Combine(dataFolder, "run");
        // A comma or colon would be read as several hosts or a port by the driver.
        if (Fits(beside) && beside.IndexOfAny([',', ':', '"', '\'', ';']) < 0)
        {
            return beside;
        }

        var mark = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(dataFolder)))[..12];
        var name = $"releasekit-{account.User}-{mark}";
        var temp = Path.TrimEndingDirectorySeparator(Path.GetTempPath());
        return Fits(Path.Combine(temp, name)) && account.MayEnter(temp)
            ? Path.Combine(temp, name)
            : Path.Combine("/tmp", name);
    }

    private static bool Fits(string folder) =>
        Encoding.UTF8.GetByteCount(Path.Combine(folder, $".s.PGSQL.{Port}")) <= LongestPath;
}
