using System.Diagnostics;
using Releasekit.Server.Cluster;

namespace Releasekit.Server.Tests.Cluster;

public class RunningClusterTests(MadeCluster made) : IClassFixture<MadeCluster>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("fsync", "on")]
    [InlineData("full_page_writes", "on")]
    [InlineData("data_checksums", "on")]
    [InlineData("TimeZone", "UTC")]
    [InlineData("listen_addresses", "")]
    [InlineData("unix_socket_permissions", "0700")]
    [InlineData("server_encoding", "UTF8")]
    public async Task The_settings_keep_what_was_written_and_close_every_other_door(string name, string value)
    {
        await using var cluster = await made.Start(Cancel);

        Assert.Equal(value, await MadeCluster.Ask(cluster, $"show {name}"));
    }

    [Fact]
    public async Task The_server_is_not_root_and_only_its_user_reaches_data_and_socket()
    {
        await using var cluster = await made.Start(Cancel);

        var server = Posix.Look($"/proc/{cluster.ServerProcess}")!.User;
        var closed = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
        Assert.NotEqual(0u, server);
        foreach (var folder in new[] { made.ClusterPath, Path.Combine(made.Folder, "run") })
        {
            var found = Posix.Look(folder)!;
            Assert.Equal((server, closed), (found.User, found.Mode));
        }
    }

    [Fact]
    public async Task A_stop_is_clean_and_is_not_told_as_a_death()
    {
        var cluster = await made.Start(Cancel);
        await cluster.DisposeAsync();

        Assert.Null(Leftovers.PostmasterOf(made.ClusterPath));
        Assert.Empty(Leftovers.LivingIn(made.ClusterPath));
        Assert.False(cluster.Ended.IsCompleted);
        await using var again = await made.Start(Cancel);
        Assert.Empty(made.Said);
    }

    [Fact]
    public async Task The_death_of_the_server_is_told_and_the_next_start_has_every_committed_row()
    {
        var cluster = await made.Start(Cancel);
        await MadeCluster.Ask(cluster, "insert into kept values ('last')");

        Posix.Signal(cluster.ServerProcess, Posix.Kill);
        var sentence = await cluster.Ended.WaitAsync(TimeSpan.FromSeconds(10), Cancel);
        await cluster.DisposeAsync();

        Assert.StartsWith("PostgreSQL ended unasked (signal 9)", sentence, StringComparison.Ordinal);
        await using var again = await made.Start(Cancel);
        Assert.Equal("1", await MadeCluster.Ask(again, "select count(*) from kept where what = 'last'"));
    }

    [Fact]
    public async Task A_server_that_outlived_its_service_is_stopped_and_started_anew()
    {
        var cluster = await made.Start(Cancel);
        var outliving = cluster.ServerProcess;
        cluster.Folder.Dispose(); // the lock goes with the service, the server stays

        await using var again = await made.Start(Cancel);

        Assert.Contains("earlier run", Assert.Single(made.Said), StringComparison.Ordinal);
        Assert.NotEqual(outliving, again.ServerProcess);
        Assert.Equal("1", await MadeCluster.Ask(again, "select count(*) from kept where what = 'before'"));
    }

    [Fact]
    public async Task A_pid_file_that_names_a_living_process_of_the_same_user_does_not_stop_the_start()
    {
        var account = ServerAccount.Find();
        var other = await BoundChild.Start(account, "/bin/sleep", ["60"]);
        var pidFile = Path.Combine(made.ClusterPath, "postmaster.pid");
        await File.WriteAllTextAsync(
            pidFile, $"{other.Id}\n{made.ClusterPath}\n1700000000\n5432\n{made.Folder}/run\n\n", Cancel);
        if (account.IsAnother)
        {
            Posix.GiveTo(pidFile, account.User, account.Group);
        }

        await using var cluster = await made.Start(Cancel);

        Assert.Equal("1", await MadeCluster.Ask(cluster, "select 1"));
        Assert.False(other.Exited.IsCompleted);
        Posix.Signal(other.Id, Posix.Kill);
    }

    [Fact]
    public async Task A_later_start_is_quick()
    {
        var watch = Stopwatch.StartNew();
        await using var cluster = await made.Start(Cancel);

        Assert.InRange(watch.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(5));
    }

    [Fact]
    public async Task A_second_service_on_the_same_folder_is_refused_and_the_first_is_named()
    {
        await using var cluster = await made.Start(Cancel);

        var refusal = await Assert.ThrowsAsync<StartRefusal>(() => made.Start(Cancel));

        Assert.Contains($"process id {Environment.ProcessId}", refusal.Message, StringComparison.Ordinal);
        Assert.Equal("1", await MadeCluster.Ask(cluster, "select 1"));
    }
}
