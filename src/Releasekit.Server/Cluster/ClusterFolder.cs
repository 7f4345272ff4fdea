using System.Globalization;

namespace Releasekit.Server.Cluster;

/// <summary>PostgreSQL's own folder inside the data folder, before a server runs on it.</summary>
internal static class ClusterFolder
{
    private const long RoomForFirstStart = 160L << 20;
    private const long RoomForLaterStart = 32L << 20;

    private const UnixFileMode NotForOthers =
        UnixFileMode.GroupWrite | UnixFileMode.OtherRead | UnixFileMode.OtherWrite | UnixFileMode.OtherExecute;

    /// <summary>Touches nothing.</summary>
    /// <returns>The PostgreSQL major that made the cluster; null when there is none yet.</returns>
    /// <exception cref="StartRefusal">There is something, but not a cluster of this account's.</exception>
    public static int? Inspect(string path, ServerAccount account)
    {
        if (!Path.Exists(path))
        {
            return null;
        }

        if (Posix.Look(path, follow: false) is { } found)
        {
            RefuseWrongRights(path, found, account);
        }

        var version = Path.Combine(path, "PG_VERSION");
        return File.Exists(version)
            && int.TryParse(File.ReadAllText(version), CultureInfo.InvariantCulture, out var major)
            ? major
            : throw new StartRefusal(
                $"{path} is there but holds no PostgreSQL cluster (no PG_VERSION): move it away and start again.");
    }

    /// <exception cref="StartRefusal">The disk has too little room to start on.</exception>
    public static void RefuseShortOfRoom(string dataFolder, bool isFirst)
    {
        var needed = isFirst ? RoomForFirstStart : RoomForLaterStart;
        var free = new DriveInfo(DataFolder.NearestExisting(dataFolder)).AvailableFreeSpace;
        if (free < needed)
        {
            throw new StartRefusal($"The disk of {dataFolder} is full: {free >> 20} MB are free and {needed >> 20} MB "
                + "are needed to start; make room, or name another folder with --data.");
        }
    }

    /// <summary>
    /// Makes a cluster: checksums, UTF-8, the same sort order on every machine, entry for the service's user alone.
    /// It is made beside its place and moved there when whole, so an interrupted first start leaves nothing half-made.
    /// </summary>
    public static async Task Make(
        string path, PostgresBinaries binaries, ServerAccount account, CancellationToken cancel)
    {
        var draft = path + ".new";
        try
        {
            var failure = await Initialise(draft, "C.UTF-8", binaries, account, cancel);
            if (failure?.Contains("invalid locale", StringComparison.Ordinal) == true)
            {
                failure = await Initialise(draft, "C", binaries, account, cancel);
            }

            if (failure is not null)
            {
                throw ServerWords.Refuse("PostgreSQL could not make its data folder", failure);
            }

            Directory.Move(draft, path);
            Posix.Sync(Path.GetDirectoryName(path)!);
        }
        finally
        {
            Remove(draft);
        }
    }

    /// <returns>Null when it worked, else what initdb said.</returns>
    private static async Task<string?> Initialise(
        string draft, string locale, PostgresBinaries binaries, ServerAccount account, CancellationToken cancel)
    {
        Remove(draft);
        account.OwnFolder(draft);
        var initdb = await BoundChild.Start(account, binaries.InitDb,
        [
            "-D", draft, "-U", Environment.UserName, "--data-checksums", "--encoding=UTF8", $"--locale={locale}",
            "--auth-local=peer", "--auth-host=reject",
        ]);
        await using var stop = cancel.Register(() => Posix.Signal(initdb.Id, Posix.Interrupt));
        var code = await initdb.Exited;
        cancel.ThrowIfCancellationRequested();
        return code == 0 ? null : initdb.Said;
    }

    private static void Remove(string draft)
    {
        if (Directory.Exists(draft))
        {
            Directory.Delete(draft, recursive: true);
        }
    }

    private static void RefuseWrongRights(string path, Standing found, ServerAccount account)
    {
        if (!found.IsFolder || found.User != account.User)
        {
            throw new StartRefusal($"{path} should be a folder of user {account.Name}: change its owner "
                + $"(chown -R {account.Name}), or name another folder with --data.");
        }

        if ((found.Mode & NotForOthers) != 0)
        {
            throw new StartRefusal($"{path} is open to other users (rights "
                + $"{Convert.ToString((int)found.Mode, 8)}): close it with chmod 700 {path}.");
        }
    }
}
