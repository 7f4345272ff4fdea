using Marten;
using Npgsql;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Clock;
using Releasekit.Server.Store;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>
/// Brings the stored objects to what they should be, before anybody reads them: whatever was the cause of a change, a
/// request, a job, an import, a new day. Only bytes that differ get a new revision, in one transaction.
/// </summary>
internal sealed class ObjectRefresh(IDocumentStore store, NpgsqlDataSource database, ServiceClock clock)
{
    /// <summary>
    /// Says of all that objects are made from whether any of it changed: how many there are and the sum of their
    /// versions, which grows with every change and does not depend on the order in which transactions end.
    /// </summary>
    private const string MarkSql = $"""
        select concat_ws(' ',
          (select {Versions} from releasekit.mt_doc_release where tenant_id = $1),
          (select {Versions} from releasekit.mt_doc_series where tenant_id = $1),
          (select {Versions} from releasekit.mt_doc_project where tenant_id = $1),
          (select {Hashes} from releasekit.mt_doc_plannedtask where tenant_id = $1),
          (select {Hashes} from releasekit.mt_doc_appointment where tenant_id = $1),
          (select mt_version::text from releasekit.mt_doc_publisher where id = $1))
        """;

    private const string Versions = "concat(count(*), '-', coalesce(sum(mt_version), 0))";

    private const string Hashes = "concat(count(*), '-', coalesce(sum(hashtext(mt_version::text)::bigint), 0))";

    private const string MarkOfOneSql =
        $"select mark from releasekit.{CalendarTables.Collections} where publisher = $1 limit 1";

    /// <summary>For one publisher; nothing where nothing changed.</summary>
    public async Task Run(string id, CancellationToken cancel)
    {
        await using var session = store.QuerySession(id);

        if (await session.LoadAsync<Publisher>(id, cancel) is not { } publisher)
        {
            return;
        }

        var today = publisher.DateAt(clock.Now);
        await using var connection = await database.OpenConnectionAsync(cancel);

        if (await Mark(connection, id, today, cancel) == await Text(connection, MarkOfOneSql, id, cancel))
        {
            return;
        }

        await using var transaction = await connection.BeginTransactionAsync(cancel);
        await Execute(
            connection, "select pg_advisory_xact_lock(hashtextextended($1, 0))", cancel, $"calendar {id}");

        // Read before what it stands for: what changes in between is found the next time.
        var mark = await Mark(connection, id, today, cancel);

        if (mark != await Text(connection, MarkOfOneSql, id, cancel))
        {
            await using var reading = store.QuerySession(id);
            var rendered = await new Rendering(reading, publisher, today).All(cancel);
            await new ObjectWriting(connection, id, clock.Now, mark).Write(rendered, cancel);
        }

        await transaction.CommitAsync(cancel);
    }

    private static async Task<string> Mark(
        NpgsqlConnection connection, string id, LocalDate today, CancellationToken cancel) =>
        $"{await Text(connection, MarkSql, id, cancel)} {today:uuuu-MM-dd}";

    private static async Task<string?> Text(
        NpgsqlConnection connection, string sql, string publisher, CancellationToken cancel)
    {
        await using var command = Sql.Command(sql, publisher);
        command.Connection = connection;

        return await command.ExecuteScalarAsync(cancel) as string;
    }

    internal static async Task Execute(
        NpgsqlConnection connection, string sql, CancellationToken cancel, params object[] values)
    {
        await using var command = Sql.Command(sql, values);
        command.Connection = connection;
        await command.ExecuteNonQueryAsync(cancel);
    }
}
