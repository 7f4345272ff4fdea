using Npgsql;
using Releasekit.Server.Store;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>Writes what differs, in the transaction of the connection.</summary>
/// <param name="mark">What the objects were made from.</param>
internal sealed class ObjectWriting(NpgsqlConnection connection, string publisher, Instant now, string mark)
{
    public async Task Write(
        IReadOnlyList<(CalendarCollection Collection, IReadOnlyList<RenderedObject> Objects)> rendered,
        CancellationToken cancel)
    {
        foreach (var (collection, objects) in rendered)
        {
            await Write(collection.Key, objects, cancel);
        }
    }

    private async Task Write(string collection, IReadOnlyList<RenderedObject> objects, CancellationToken cancel)
    {
        var known = await Known(collection, cancel);
        var wanted = objects.DistinctBy(one => one.Name).ToDictionary(one => one.Name, StringComparer.Ordinal);
        var changed = wanted.Values
            .Where(one => !known.TryGetValue(one.Name, out var body) || !one.Body.AsSpan().SequenceEqual(body))
            .Select(one => (one.Name, one.Uid, Body: (byte[]?)one.Body));
        var gone = known
            .Where(one => one.Value is not null && !wanted.ContainsKey(one.Key))
            .Select(one => (Name: one.Key, Uid: string.Empty, Body: (byte[]?)null));
        var revision = await RevisionOf(collection, cancel);

        foreach (var (name, uid, body) in changed.Concat(gone))
        {
            await ObjectRefresh.Execute(
                connection,
                $"""
                insert into releasekit.{CalendarTables.Objects}
                  (publisher, collection, name, uid, revision, body, changed_at)
                values ($1, $2, $3, $4, $5, $6, $7)
                on conflict (publisher, collection, name) do update
                set uid = case when excluded.uid = '' then {CalendarTables.Objects}.uid else excluded.uid end,
                    revision = excluded.revision, body = excluded.body, changed_at = excluded.changed_at
                """,
                cancel, publisher, collection, name, uid, ++revision, (object?)body ?? DBNull.Value, now);
        }

        await ObjectRefresh.Execute(
            connection,
            $"""
            insert into releasekit.{CalendarTables.Collections} (publisher, collection, revision, epoch, mark)
            values ($1, $2, $3, $4, $5)
            on conflict (publisher, collection) do update set revision = excluded.revision, mark = excluded.mark
            """,
            cancel, publisher, collection, revision, Guid.NewGuid(), mark);
    }

    /// <summary>By name; without bytes those that are gone.</summary>
    private async Task<Dictionary<string, byte[]?>> Known(string collection, CancellationToken cancel)
    {
        await using var command = Sql.Command(
            $"select name, body from releasekit.{CalendarTables.Objects} where publisher = $1 and collection = $2",
            publisher, collection);
        command.Connection = connection;
        await using var rows = await command.ExecuteReaderAsync(cancel);
        var known = new Dictionary<string, byte[]?>(StringComparer.Ordinal);

        while (await rows.ReadAsync(cancel))
        {
            known.Add(rows.GetString(0), await rows.IsDBNullAsync(1, cancel) ? null : rows.GetFieldValue<byte[]>(1));
        }

        return known;
    }

    private async Task<long> RevisionOf(string collection, CancellationToken cancel)
    {
        await using var command = Sql.Command(
            $"select revision from releasekit.{CalendarTables.Collections} where publisher = $1 and collection = $2",
            publisher, collection);
        command.Connection = connection;

        return await command.ExecuteScalarAsync(cancel) as long? ?? 0;
    }
}
