using System.Net.Sockets;
using Npgsql;
using Releasekit.Server.Cluster;
using Testcontainers.PostgreSql;

namespace Releasekit.Server.Tests;

/// <summary>
/// The database server of a test run, started when the first test asks: the one named by
/// <c>ConnectionStrings__Postgres</c>, else a container where an engine answers, else a private cluster. Containers run
/// without fsync, so tests of crashes and durability start a <see cref="PrivateCluster"/> of their own.
/// </summary>
public sealed class Postgres : IAsyncDisposable
{
    private readonly SemaphoreSlim _one = new(1);
    private readonly List<IAsyncDisposable> _started = [];
    private string? _server;

    /// <summary>Makes an empty database and names it.</summary>
    /// <returns>A connection string for Npgsql; the session's time zone is UTC.</returns>
    public async Task<string> CreateDatabaseAsync(CancellationToken cancel = default)
    {
        var server = await Server(cancel);
        var name = $"test_{Guid.NewGuid():N}";
        await using var connection = new NpgsqlConnection(server);
        await connection.OpenAsync(cancel);
        await using var create = new NpgsqlCommand($"create database {name}", connection);
        await create.ExecuteNonQueryAsync(cancel);
        return new NpgsqlConnectionStringBuilder(server) { Database = name, Timezone = "UTC" }.ConnectionString;
    }

    public async ValueTask DisposeAsync()
    {
        NpgsqlConnection.ClearAllPools();
        foreach (var started in _started)
        {
            await started.DisposeAsync();
        }

        _one.Dispose();
    }

    private async Task<string> Server(CancellationToken cancel)
    {
        await _one.WaitAsync(cancel);
        try
        {
            return _server ??= Named() ?? await Container(cancel) ?? await Private(cancel);
        }
        finally
        {
            _one.Release();
        }
    }

    private static string? Named()
    {
        var named = Environment.GetEnvironmentVariable("ConnectionStrings__Postgres");
        if (string.IsNullOrEmpty(named))
        {
            return null;
        }

        Note("the server named by ConnectionStrings__Postgres");
        return named;
    }

    private async Task<string?> Container(CancellationToken cancel)
    {
        if (!await EngineAnswers(cancel))
        {
            return null;
        }

        var image = Environment.GetEnvironmentVariable("TEST_POSTGRES_IMAGE") ?? "postgres:17-alpine";
        try
        {
            var container = new PostgreSqlBuilder(image).WithCommand("-c", "max_connections=200").Build();
            _started.Add(container);
            await container.StartAsync(cancel).WaitAsync(TimeSpan.FromMinutes(2), cancel);
            Note($"a container of {image}, by Testcontainers");
            return container.GetConnectionString();
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            Note($"no container, though an engine answers: {failure.Message.Split('\n')[0]}");
            return null;
        }
    }

    private async Task<string> Private(CancellationToken cancel)
    {
        var folder = TempFolder.Make();
        _started.Add(folder);
        var cluster = await PrivateCluster.StartAsync(folder.Path, null, _ => { }, cancel);
        _started.Insert(0, cluster);
        Note("a private cluster");
        return cluster.ConnectionString;
    }

    private static async Task<bool> EngineAnswers(CancellationToken cancel)
    {
        var address = Environment.GetEnvironmentVariable("DOCKER_HOST") ?? "unix:///var/run/docker.sock";
        if (!Uri.TryCreate(address, UriKind.Absolute, out var uri) || uri.Scheme != "unix")
        {
            return false;
        }

        using var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        soon.CancelAfter(TimeSpan.FromSeconds(3));
        try
        {
            await socket.ConnectAsync(new UnixDomainSocketEndPoint(uri.LocalPath), soon.Token);
            await socket.SendAsync("GET /_ping HTTP/1.1\r\nHost: engine\r\n\r\n"u8.ToArray(), soon.Token);
            var answer = new byte[12];
            var length = await socket.ReceiveAsync(answer, soon.Token);
            return answer.AsSpan(0, length).SequenceEqual("HTTP/1.1 200"u8);
        }
        catch (Exception failure) when (failure is SocketException or OperationCanceledException)
        {
            cancel.ThrowIfCancellationRequested();
            return false;
        }
    }

    /// <summary>The runner hides what passing tests print, so <c>ops/test</c> names a file and shows it.</summary>
    private static void Note(string database)
    {
        var line = $"Database of the server tests: {database}.";
        TestContext.Current.SendDiagnosticMessage(line);
        if (Environment.GetEnvironmentVariable("RELEASEKIT_TEST_NOTES") is { Length: > 0 } file)
        {
            File.AppendAllText(file, line + "\n");
        }
    }
}
