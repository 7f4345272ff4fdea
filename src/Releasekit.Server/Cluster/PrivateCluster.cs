using Npgsql;

namespace Releasekit.Server.Cluster;

/// <summary>
/// A PostgreSQL of the service's own, reachable through a unix socket that only its user may open, started and stopped
/// with the service. Kept in the data folder: <c>postgres</c> (the cluster), <c>run</c> (the socket), <c>lock</c>.
/// Whatever ended the last run, the next one starts from what was committed.
/// </summary>
internal sealed class PrivateCluster : IAsyncDisposable
{
    private const string Database = "releasekit";
    private const string UnknownDatabase = "3D000";
    private const string WrongUser = "28000";

    private readonly Postmaster _server;
    private readonly ServerAccount _account;
    private volatile bool _isStopping;

    private PrivateCluster(DataFolder folder, Postmaster server, ServerAccount account, string connectionString)
    {
        (Folder, _server, _account, ConnectionString) = (folder, server, account, connectionString);
        Ended = Watch();
    }

    public DataFolder Folder { get; }

    /// <summary>For Npgsql; the session's time zone is UTC.</summary>
    public string ConnectionString { get; }

    /// <summary>Completes with one sentence when the server ends without having been asked to; else never.</summary>
    public Task<string> Ended { get; }

    /// <summary>The server's first process.</summary>
    public int ServerProcess => _server.Id;

    /// <summary>
    /// Looks first, and touches nothing unless all is well; then starts the server, the first time making it.
    /// </summary>
    /// <param name="dataFolder">Made where missing, with rights for this user alone.</param>
    /// <param name="binFolder">The folder of PostgreSQL's programs; null looks in the usual places.</param>
    /// <param name="say">Told, in whole sentences, what takes long or was found amiss and put right.</param>
    /// <exception cref="StartRefusal">Something is in the way that only a person can decide about.</exception>
    public static async Task<PrivateCluster> StartAsync(
        string dataFolder, string? binFolder, Action<string> say, CancellationToken cancel)
    {
        dataFolder = DataFolder.Resolve(dataFolder);
        var path = Path.Combine(dataFolder, "postgres");
        DataFolder.Inspect(dataFolder);
        var account = ServerAccount.Find();
        DataFolder.RefuseUnreachable(dataFolder, account);
        var major = ClusterFolder.Inspect(path, account);
        var binaries = PostgresBinaries.Find(binFolder, major);
        ClusterFolder.RefuseShortOfRoom(dataFolder, isFirst: major is null);

        var folder = DataFolder.Open(dataFolder);
        try
        {
            folder.LetThrough(account);
            DataFolder.RefuseUnreachable(dataFolder, account); // again: folders above may just have been made
            if (ClusterFolder.Inspect(path, account) is null)
            {
                say($"A database is made with PostgreSQL {binaries.Major}, once.");
                await ClusterFolder.Make(path, binaries, account, cancel);
            }

            await Leftovers.Clear(path, say, cancel);
            return await Launch(folder, path, binaries, account, say, cancel);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            folder.Abandon();
            throw ServerWords.Refuse($"{dataFolder} cannot be used", failure.Message);
        }
        catch
        {
            folder.Abandon();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        _isStopping = true;
        await _server.Stop();
        SocketFolder.Remove(Folder.Path, _account);
        Folder.Dispose();
    }

    private static async Task<PrivateCluster> Launch(
        DataFolder folder, string path, PostgresBinaries binaries, ServerAccount account, Action<string> say,
        CancellationToken cancel)
    {
        var socketFolder = SocketFolder.Open(folder.Path, account);
        var server = await Postmaster.Start(path, socketFolder, binaries, account);
        try
        {
            await server.WaitUntilReady(say, cancel);
            var connection = ConnectTo(socketFolder, Database);
            await EnsureDatabase(connection, ConnectTo(socketFolder, "postgres"), cancel);
            return new(folder, server, account, connection);
        }
        catch
        {
            await server.Stop();
            throw;
        }
    }

    private static string ConnectTo(string socketFolder, string database) => new NpgsqlConnectionStringBuilder
    {
        Host = socketFolder,
        Port = SocketFolder.Port,
        Username = Environment.UserName,
        Database = database,
        Timezone = "UTC",
        SslMode = SslMode.Disable,
        GssEncryptionMode = GssEncryptionMode.Disable,
    }.ConnectionString;

    private static async Task EnsureDatabase(string wanted, string maintenance, CancellationToken cancel)
    {
        try
        {
            await using var connection = new NpgsqlConnection(wanted);
            await connection.OpenAsync(cancel);
        }
        catch (PostgresException refusal) when (refusal.SqlState == UnknownDatabase)
        {
            await using var connection = new NpgsqlConnection(maintenance);
            await connection.OpenAsync(cancel);
            await using var create = new NpgsqlCommand($"create database {Database}", connection);
            await create.ExecuteNonQueryAsync(cancel);
        }
        catch (PostgresException refusal) when (refusal.SqlState == WrongUser)
        {
            throw new StartRefusal(
                $"The database was made by a service that ran as another user than {Environment.UserName}: "
                + "start it as that user, or name another folder with --data.", refusal);
        }
    }

    private async Task<string> Watch()
    {
        var code = await _server.Exited;
        if (_isStopping)
        {
            await Task.Delay(Timeout.Infinite);
        }

        return $"PostgreSQL ended unasked ({(code > 128 ? $"signal {code - 128}" : $"code {code}")}): "
            + $"start again, and see {_server.Logs} for the reason.";
    }
}
