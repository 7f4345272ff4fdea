namespace Releasekit.Server.Cluster;

/// <summary>
/// The folder that holds everything of one running service: its cluster, its socket, its token, its lock. While this
/// object lives, a second service on the same folder is refused; the lock goes with the process, however that ends.
/// </summary>
internal sealed class DataFolder : IDisposable
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
    private const UnixFileMode OwnerFile = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    private const int WouldBlock = 11;
    private const int WouldBlockOnMac = 35;

    private readonly FileStream _lock;
    private readonly bool _isNew;

    private DataFolder(string path, FileStream held, bool isNew) => (Path, _lock, _isNew) = (path, held, isNew);

    public string Path { get; }

    public string OwnerTokenFile => System.IO.Path.Combine(Path, "owner-token");

    /// <summary>Where data lies by default: in the XDG data home, or in <c>/var/lib</c> for root.</summary>
    public static string Default(bool demo)
    {
        var named = Environment.GetEnvironmentVariable("XDG_DATA_HOME");
        var user = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
        var home = Posix.IsRoot ? "/var/lib"
            : System.IO.Path.IsPathRooted(named) ? named
            : System.IO.Path.Combine(user, ".local", "share");
        return System.IO.Path.Combine(home, demo ? "releasekit-demo" : "releasekit");
    }

    /// <summary>A folder's one spelling: from the root, no slash at the end, a link replaced by its target.</summary>
    public static string Resolve(string path)
    {
        path = System.IO.Path.TrimEndingDirectorySeparator(System.IO.Path.GetFullPath(path));
        return Directory.Exists(path) ? Directory.ResolveLinkTarget(path, true)?.FullName ?? path : path;
    }

    /// <summary>Touches nothing.</summary>
    /// <exception cref="StartRefusal">The folder cannot be made, is another's, or others may write to it.</exception>
    public static void Inspect(string path)
    {
        for (var part = path; part is not null; part = System.IO.Path.GetDirectoryName(part))
        {
            if (File.Exists(part))
            {
                throw new StartRefusal($"{part} is a file: --data should name a folder.");
            }
        }

        if (!Directory.Exists(path))
        {
            var above = NearestExisting(path);
            if (!Posix.MayWrite(above))
            {
                throw new StartRefusal(
                    $"{path} cannot be made, for {Environment.UserName} may not write to {above}: "
                    + "name another folder with --data, or make it and give it to this user.");
            }

            return;
        }

        if (File.Exists(System.IO.Path.Combine(path, "PG_VERSION")))
        {
            throw new StartRefusal(
                $"{path} is itself a PostgreSQL data folder: --data should name a folder of the service's own.");
        }

        RefuseWrongRights(path);
    }

    /// <summary>Makes the folder where it is missing (0700) and takes its lock.</summary>
    /// <exception cref="StartRefusal">As <see cref="Inspect"/>, or another service runs on it.</exception>
    public static DataFolder Open(string path)
    {
        path = Resolve(path);
        Inspect(path);
        var isNew = !Directory.Exists(path);
        var file = System.IO.Path.Combine(path, "lock");
        try
        {
            Directory.CreateDirectory(path, OwnerOnly);
            var held = new FileStream(file, new FileStreamOptions
            {
                Mode = FileMode.OpenOrCreate,
                Access = FileAccess.ReadWrite,
                Share = FileShare.None,
                UnixCreateMode = OwnerFile,
            });
            held.SetLength(0);
            held.Write(System.Text.Encoding.ASCII.GetBytes($"{Environment.ProcessId}\n"));
            held.Flush();
            return new(path, held, isNew);
        }
        catch (IOException failure) when (failure.HResult is WouldBlock or WouldBlockOnMac)
        {
            throw new StartRefusal($"{path} is in use by the service with process id {HolderOf(file)}: "
                + "stop that one first, or name another folder with --data.", failure);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw ServerWords.Refuse($"{path} cannot be used", failure.Message);
        }
    }

    /// <summary>The nearest folder at or above a path that exists.</summary>
    public static string NearestExisting(string path) =>
        Directory.Exists(path) ? path : NearestExisting(System.IO.Path.GetDirectoryName(path) ?? "/");

    /// <summary>
    /// Refuses unless the server's account can reach the folder from the root. Rights of the folders above are not
    /// ours to change; those of the folder itself are (<see cref="LetThrough"/>).
    /// </summary>
    public static void RefuseUnreachable(string path, ServerAccount account)
    {
        for (var above = System.IO.Path.GetDirectoryName(path); above is not null;
            above = System.IO.Path.GetDirectoryName(above))
        {
            if (account.IsAnother && !account.MayEnter(above))
            {
                throw new StartRefusal(
                    $"PostgreSQL runs as user \"{account.Name}\" when the service runs as root, and that user may not "
                    + $"pass through {above}: name another folder with --data, or allow it with chmod o+x {above}.");
            }
        }
    }

    /// <summary>Lets the server's account pass through this folder, and no one read it.</summary>
    public void LetThrough(ServerAccount account)
    {
        if (account.IsAnother && !account.MayEnter(Path))
        {
            File.SetUnixFileMode(Path, File.GetUnixFileMode(Path) | UnixFileMode.OtherExecute);
        }
    }

    /// <summary>Writes the first publisher's token: one line, whole or not at all, for the owner alone.</summary>
    /// <returns>The file's path.</returns>
    public string WriteOwnerToken(string token)
    {
        var draft = OwnerTokenFile + ".new";
        File.Delete(draft);
        using (var file = new FileStream(draft, new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.Write,
            UnixCreateMode = OwnerFile,
        }))
        {
            file.Write(System.Text.Encoding.UTF8.GetBytes(token + "\n"));
            file.Flush(flushToDisk: true);
        }

        File.Move(draft, OwnerTokenFile, overwrite: true);
        Posix.Sync(Path);
        return OwnerTokenFile;
    }

    /// <summary>After a refused start: takes away what <see cref="Open"/> made, unless more has come to it.</summary>
    public void Abandon()
    {
        if (_isNew && Directory.GetFileSystemEntries(Path) is [var only] && only == _lock.Name)
        {
            Directory.Delete(Path, recursive: true);
        }

        Dispose();
    }

    public void Dispose() => _lock.Dispose();

    private static void RefuseWrongRights(string path)
    {
        if (Posix.Look(path) is { } found && (found.User != Posix.User || found.Mode.HasFlag(UnixFileMode.OtherWrite)))
        {
            throw new StartRefusal(found.User != Posix.User
                ? $"{path} belongs to another user (id {found.User}), not to {Environment.UserName}: "
                    + "name another folder with --data, or change its owner."
                : $"Anyone may write to {path}: take that right away (chmod o-w), or name another folder with --data.");
        }

        if (!Posix.MayWrite(path))
        {
            throw new StartRefusal($"{Environment.UserName} may not write to {path}: give the right (chmod u+rwx), "
                + "or name another folder with --data.");
        }
    }

    private static string HolderOf(string file)
    {
        using var open = Posix.OpenToRead(file);
        using var reader = new StreamReader(new FileStream(open, FileAccess.Read));
        return reader.ReadLine() ?? "unknown";
    }
}
