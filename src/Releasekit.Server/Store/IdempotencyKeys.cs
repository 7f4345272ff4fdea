using Npgsql;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace Releasekit.Server.Store;

/// <summary>
/// The answers given to requests with an Idempotency-Key, kept for a day so that they can be given again.
/// </summary>
internal sealed class IdempotencyKeys(NpgsqlDataSource database)
{
    private const string TableName = "idempotency_keys";
    private static readonly Duration Kept = Duration.FromHours(24);

    /// <summary>A request that was cut off by a crash may be repeated after this long.</summary>
    private static readonly Duration GivenUpAfter = Duration.FromMinutes(2);

    public static Table Table(string schema)
    {
        var table = new Table(new PostgresqlObjectName(schema, TableName, SchemaUtils.IdentifierUsage.General));
        table.AddColumn<Guid>("token").AsPrimaryKey();
        table.AddColumn<string>("key").AsPrimaryKey();
        table.AddColumn<string>("request").NotNull();
        table.AddColumn("began_at", "timestamptz").NotNull();
        table.AddColumn<int>("status");
        table.AddColumn<string>("headers");
        table.AddColumn("body", "bytea");
        return table;
    }

    /// <summary>
    /// Claims a key for a request; null when it is claimed now, otherwise what is known of the first request.
    /// </summary>
    public async Task<KeptAnswer?> Claim(Guid token, string key, string request, Instant now, CancellationToken cancel)
    {
        const string sql = $"""
            insert into releasekit.{TableName} as k (token, key, request, began_at) values ($1, $2, $3, $4)
            on conflict (token, key) do update
              set request = excluded.request, began_at = excluded.began_at, status = null, headers = null, body = null
              where k.began_at < $5 or (k.status is null and k.began_at < $6)
            """;
        await using var claim = database.Command(sql, token, key, request, now, now - Kept, now - GivenUpAfter);

        return await claim.ExecuteNonQueryAsync(cancel) == 1 ? null : await Find(token, key, cancel);
    }

    public async Task Keep(Guid token, string key, int status, string headers, byte[] body)
    {
        await using var keep = database.Command(
            $"update releasekit.{TableName} set status = $3, headers = $4, body = $5 where token = $1 and key = $2",
            token, key, status, headers, body);
        await keep.ExecuteNonQueryAsync(CancellationToken.None);
    }

    /// <summary>Lets the key be used again: the request failed by a defect and changed nothing.</summary>
    public async Task Release(Guid token, string key)
    {
        await using var release = database.Command(
            $"delete from releasekit.{TableName} where token = $1 and key = $2", token, key);
        await release.ExecuteNonQueryAsync(CancellationToken.None);
    }

    /// <summary>Forgets answers that were kept long enough.</summary>
    public async Task Sweep(Instant now, CancellationToken cancel)
    {
        await using var sweep = database.Command($"delete from releasekit.{TableName} where began_at < $1", now - Kept);
        await sweep.ExecuteNonQueryAsync(cancel);
    }

    private async Task<KeptAnswer?> Find(Guid token, string key, CancellationToken cancel)
    {
        await using var find = database.Command(
            $"select request, status, headers, body from releasekit.{TableName} where token = $1 and key = $2", token,
            key);
        await using var row = await find.ExecuteReaderAsync(cancel);

        return await row.ReadAsync(cancel)
            ? new(
                row.GetString(0),
                row.IsDBNull(1) ? null : row.GetInt32(1),
                row.IsDBNull(2) ? "{}" : row.GetString(2),
                row.IsDBNull(3) ? [] : row.GetFieldValue<byte[]>(3))
            : null;
    }
}

/// <summary>What is kept of a request.</summary>
/// <param name="Request">Digest of method, address and body.</param>
/// <param name="Status">Null while the first request still runs.</param>
/// <param name="Headers">JSON object of the headers that belong to the answer.</param>
internal sealed record KeptAnswer(string Request, int? Status, string Headers, byte[] Body);
