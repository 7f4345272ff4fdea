using Releasekit.Server.Cluster;

namespace Releasekit.Server.Tests.Cluster;

public class RefusedStartTests(MadeCluster made) : IClassFixture<MadeCluster>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_cluster_of_another_major_is_refused()
    {
        var version = Path.Combine(made.ClusterPath, "PG_VERSION");
        var major = await File.ReadAllTextAsync(version, Cancel);
        await File.WriteAllTextAsync(version, "12\n", Cancel);
        try
        {
            await IsRefused(made.Folder, null, "made by PostgreSQL 12");
        }
        finally
        {
            await File.WriteAllTextAsync(version, major, Cancel);
        }
    }

    [Fact]
    public async Task A_cluster_open_to_others_is_refused()
    {
        var closed = File.GetUnixFileMode(made.ClusterPath);
        File.SetUnixFileMode(made.ClusterPath, closed | UnixFileMode.OtherRead);
        try
        {
            await IsRefused(made.Folder, null, "chmod 700");
        }
        finally
        {
            File.SetUnixFileMode(made.ClusterPath, closed);
        }
    }

    [Fact]
    public async Task A_folder_that_is_no_cluster_is_refused()
    {
        await using var folder = TempFolder.Make();
        ServerAccount.Find().OwnFolder(Path.Combine(folder.Path, "postgres"));

        await IsRefused(folder.Path, null, "no PG_VERSION");
    }

    [Fact]
    public async Task A_folder_of_another_owner_or_without_the_right_to_write_is_refused()
    {
        await using var folder = TempFolder.Make();
        if (Posix.IsRoot)
        {
            Posix.GiveTo(folder.Path, 65534, 65534);
        }
        else
        {
            File.SetUnixFileMode(folder.Path, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        }

        await IsRefused(folder.Path, null, Posix.IsRoot ? "belongs to another user" : "may not write");
    }

    [Fact]
    public async Task A_folder_anyone_may_write_to_is_refused()
    {
        await using var folder = TempFolder.Make();
        File.SetUnixFileMode(folder.Path, File.GetUnixFileMode(folder.Path) | UnixFileMode.OtherWrite);

        await IsRefused(folder.Path, null, "chmod o-w");
    }

    [Fact]
    public async Task A_folder_behind_one_that_the_server_may_not_enter_is_refused_by_name()
    {
        Assert.SkipUnless(Posix.IsRoot, "Only as root does the server run as another user than the service.");
        await using var above = TempFolder.Make();

        await IsRefused(Path.Combine(above.Path, "data"), null, $"chmod o+x {above.Path}");

        Assert.False(Directory.Exists(Path.Combine(above.Path, "data")));
    }

    [Fact]
    public async Task No_PostgreSQL_where_the_setting_says_is_refused_and_no_folder_is_made()
    {
        await using var folder = TempFolder.Make();
        File.SetUnixFileMode(folder.Path, File.GetUnixFileMode(folder.Path) | UnixFileMode.OtherExecute);
        var missing = Path.Combine(folder.Path, "data");

        await IsRefused(missing, "/usr/share", "has no PostgreSQL programs");

        Assert.False(Directory.Exists(missing));
    }

    [Fact]
    public void Too_little_room_is_refused()
    {
        var refusal = Assert.Throws<StartRefusal>(() => ClusterFolder.RefuseShortOfRoom("/proc", isFirst: true));

        Assert.Contains("is full", refusal.Message, StringComparison.Ordinal);
    }

    /// <summary>Refused in one sentence that says <paramref name="words"/>, and every entry is as it was.</summary>
    private static async Task IsRefused(string folder, string? programs, string words)
    {
        var before = Entries(folder);

        var refusal = await Assert.ThrowsAsync<StartRefusal>(
            () => PrivateCluster.StartAsync(folder, programs, _ => { }, Cancel));

        Assert.Contains(words, refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal.Message);
        Assert.EndsWith(".", refusal.Message, StringComparison.Ordinal);
        Assert.Equal(before, Entries(folder));
    }

    private static string[] Entries(string folder) => !Directory.Exists(folder) ? [] :
        [.. Directory.EnumerateFileSystemEntries(folder, "*", SearchOption.AllDirectories).Append(folder).Order()
            .Select(path => $"{path} {Posix.Look(path)?.Mode} {File.GetLastWriteTimeUtc(path):O}")];
}
