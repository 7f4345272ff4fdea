using Npgsql;
using Releasekit.Server.Cluster;

namespace Releasekit.Server.Tests.Cluster;

public class FirstStartTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_data_folder_too_long_for_a_socket_gets_a_short_one_elsewhere()
    {
        await using var temp = TempFolder.Make();
        var folder = Path.Combine(temp.Path, new string('x', 100));
        File.SetUnixFileMode(temp.Path, File.GetUnixFileMode(temp.Path) | UnixFileMode.OtherExecute);

        await using var cluster = await PrivateCluster.StartAsync(folder, null, _ => { }, Cancel);

        var socket = new NpgsqlConnectionStringBuilder(cluster.ConnectionString).Host!;
        Assert.DoesNotContain(folder, socket, StringComparison.Ordinal);
        Assert.Equal("1", await MadeCluster.Ask(cluster, "select 1"));
        await cluster.DisposeAsync();
        Assert.False(Directory.Exists(socket));
    }

    [Fact]
    public async Task An_interrupted_first_start_leaves_nothing_half_made()
    {
        await using var temp = TempFolder.Make();
        using var interrupt = new CancellationTokenSource();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => PrivateCluster.StartAsync(
            temp.Path, null, _ => interrupt.CancelAfter(TimeSpan.FromMilliseconds(200)), interrupt.Token));

        Assert.Equal(["lock"], Directory.EnumerateFileSystemEntries(temp.Path).Select(Path.GetFileName));
    }

    [Fact]
    public async Task The_owner_token_stands_alone_in_one_line_for_the_owner_alone()
    {
        await using var temp = TempFolder.Make();
        using var folder = DataFolder.Open(temp.Path);

        var file = folder.WriteOwnerToken("first");
        folder.WriteOwnerToken("second");

        Assert.Equal("second\n", await File.ReadAllTextAsync(file, Cancel));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        Assert.Equal(Path.Combine(temp.Path, "owner-token"), file);
    }
}
