namespace Releasekit.Server.Cluster;

/// <summary>
/// The system user PostgreSQL runs as: the service's own, or <c>postgres</c> when the service runs as root, for
/// PostgreSQL never runs as root.
/// </summary>
internal sealed record ServerAccount(string Name, uint User, uint Group, bool IsAnother)
{
    private const string Owner = "postgres";

    private static readonly string[] ToolFolders = ["/usr/bin", "/bin", "/usr/sbin"];

    public static ServerAccount Find()
    {
        if (!Posix.IsRoot)
        {
            return new(Environment.UserName, Posix.User, 0, false);
        }

        var line = File.ReadLines("/etc/passwd").Select(entry => entry.Split(':'))
            .FirstOrDefault(entry => entry.Length > 3 && entry[0] == Owner);
        if (line is null)
        {
            throw new StartRefusal(
                "PostgreSQL never runs as root and this machine has no user \"postgres\" to run it as: "
                + "install the postgresql package, or start the service as an ordinary user.");
        }

        return Tool("setpriv") is null
            ? throw new StartRefusal(
                "PostgreSQL never runs as root and there is no setpriv (package util-linux) to change the user: "
                + "install it, or start the service as an ordinary user.")
            : new(Owner, uint.Parse(line[2], null), uint.Parse(line[3], null), true);
    }

    /// <summary>
    /// The words to put before a command: a session of its own, so that Ctrl-C reaches the service alone and the
    /// service stops PostgreSQL last; this account's rights; and an interrupt when the thread that started it ends.
    /// </summary>
    public IEnumerable<string> Prefix()
    {
        if (Tool("setsid") is { } session)
        {
            yield return session;
        }

        if (Tool("setpriv") is not { } rights)
        {
            yield break;
        }

        yield return rights;
        string[] change = IsAnother ? ["--reuid", Name, "--regid", $"{Group}", "--init-groups"] : [];
        foreach (var word in change)
        {
            yield return word;
        }

        yield return "--pdeathsig";
        yield return "INT";
        yield return "--";
    }

    /// <summary>Makes a folder that only this account and root may enter; refuses one that is otherwise.</summary>
    public void OwnFolder(string path)
    {
        const UnixFileMode Alone = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
        if (Posix.Look(path, follow: false) is { } found)
        {
            // The service's own is one that a killed start made and did not come to give away.
            if (!found.IsFolder || (found.User != User && found.User != Posix.User) || found.Mode != Alone)
            {
                throw new StartRefusal($"{path} should be a folder of user {Name} with rights 0700: remove it.");
            }
        }
        else
        {
            Directory.CreateDirectory(path, Alone);
        }

        if (IsAnother)
        {
            Posix.GiveTo(path, User, Group);
        }
    }

    /// <summary>Whether this account may pass through a folder, by its plain rights, without access lists.</summary>
    public bool MayEnter(string folder) => Posix.Look(folder) is not { } found || found.Mode.HasFlag(
        found.User == User ? UnixFileMode.UserExecute
        : found.Group == Group && IsAnother ? UnixFileMode.GroupExecute
        : UnixFileMode.OtherExecute);

    private static string? Tool(string name) => OperatingSystem.IsLinux()
        ? ToolFolders.Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists)
        : null;
}
