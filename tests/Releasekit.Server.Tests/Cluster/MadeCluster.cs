using Npgsql;
using Releasekit.Server.Cluster;

namespace Releasekit.Server.Tests.Cluster;

/// <summary>A data folder whose cluster was made once, with one row in it; each test starts it again.</summary>
public sealed class MadeCluster : IAsyncLifetime
{
    private TempFolder? _folder;

    /// <summary>What the last start said.</summary>
    internal List<string> Said { get; } = [];

    internal string Folder => _folder!.Path;

    internal string ClusterPath => Path.Combine(Folder, "postgres");

    public async ValueTask InitializeAsync()
    {
        _folder = TempFolder.Make();
        await using var cluster = await Start(TestContext.Current.CancellationToken);
        await Ask(cluster, "create table kept (what text)");
        await Ask(cluster, "insert into kept values ('before')");
    }

    public ValueTask DisposeAsync() => _folder!.DisposeAsync();

    internal Task<PrivateCluster> Start(CancellationToken cancel)
    {
        Said.Clear();
        return PrivateCluster.StartAsync(Folder + "/", null, Said.Add, cancel);
    }

    /// <returns>The first column of the first row, as text.</returns>
    internal static async Task<string?> Ask(PrivateCluster cluster, string sql)
    {
        var cancel = TestContext.Current.CancellationToken;
        var unpooled = new NpgsqlConnectionStringBuilder(cluster.ConnectionString) { Pooling = false };
        await using var connection = new NpgsqlConnection(unpooled.ConnectionString);
        await connection.OpenAsync(cancel);
        await using var command = new NpgsqlCommand(sql, connection);
        return (await command.ExecuteScalarAsync(cancel))?.ToString();
    }
}
