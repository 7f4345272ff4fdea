using Npgsql;
using Releasekit.Server.Store;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>An object as it is served.</summary>
/// <param name="Name">Its last path segment.</param>
/// <param name="Revision">Of its collection's counter when its bytes last changed.</param>
/// <param name="Body">iCalendar, UTF-8; empty when only the head was asked for, null for a tombstone.</param>
/// <param name="Length">Of the body, in bytes.</param>
/// <param name="ChangedAt">UTC.</param>
internal sealed record StoredObject(
    string Name, string Uid, long Revision, byte[]? Body, int Length, Instant ChangedAt)
{
    /// <summary>Strong: another revision has other bytes.</summary>
    public string ETag => FormattableString.Invariant($"\"{Revision}\"");
}

/// <summary>The state of a collection: what a client may say that it knows.</summary>
/// <param name="Epoch">Another one where the history was lost, as after a restore.</param>
internal sealed record CollectionState(string Collection, long Revision, Guid Epoch)
{
    private const string Prefix = "urn:releasekit:sync:";

    /// <summary>A URI (RFC 6578 s.3.2), and the tag of the collection.</summary>
    public string Token => FormattableString.Invariant($"{Prefix}{Collection}:{Epoch:N}:{Revision}");

    /// <summary>The revision that a token of this collection names; null when it is none, or of another
    /// epoch.</summary>
    public long? RevisionOf(string token)
    {
        var own = FormattableString.Invariant($"{Prefix}{Collection}:{Epoch:N}:");

        return token.StartsWith(own, StringComparison.Ordinal)
            && long.TryParse(token[own.Length..], System.Globalization.CultureInfo.InvariantCulture, out var revision)
            && revision >= 0 && revision <= Revision
                ? revision
                : null;
    }
}

/// <summary>Reads objects and the state of collections.</summary>
internal sealed class ObjectReading(NpgsqlDataSource database)
{
    /// <summary>The states of the collections of a publisher, by key.</summary>
    public async Task<IReadOnlyDictionary<string, CollectionState>> States(string publisher, CancellationToken cancel)
    {
        await using var command = database.Command(
            $"select collection, revision, epoch from releasekit.{CalendarTables.Collections} where publisher = $1",
            publisher);
        await using var rows = await command.ExecuteReaderAsync(cancel);
        var states = new Dictionary<string, CollectionState>(StringComparer.Ordinal);

        while (await rows.ReadAsync(cancel))
        {
            states.Add(rows.GetString(0), new(rows.GetString(0), rows.GetInt64(1), rows.GetGuid(2)));
        }

        return states;
    }

    /// <summary>The objects of a collection, by name; without bytes unless asked for.</summary>
    public Task<IReadOnlyList<StoredObject>> All(
        string publisher, string collection, bool withBodies, CancellationToken cancel) => Read(
            $"""
            select name, uid, revision, {Body(withBodies)}, length(body), changed_at
            from releasekit.{CalendarTables.Objects}
            where publisher = $1 and collection = $2 and body is not null order by name
            """,
            cancel, publisher, collection);

    /// <summary>Those of these names that are there.</summary>
    public Task<IReadOnlyList<StoredObject>> Named(
        string publisher, string collection, string[] names, CancellationToken cancel) => Read(
            $"""
            select name, uid, revision, body, length(body), changed_at
            from releasekit.{CalendarTables.Objects}
            where publisher = $1 and collection = $2 and body is not null and name = any($3)
            """,
            cancel, publisher, collection, names);

    /// <summary>What changed after a revision, in that order; what is gone without bytes.</summary>
    /// <param name="most">At most so many.</param>
    public Task<IReadOnlyList<StoredObject>> ChangedAfter(
        string publisher, string collection, long revision, bool withBodies, int most, CancellationToken cancel) =>
        Read(
            $"""
            select name, uid, revision, {Body(withBodies)}, coalesce(length(body), 0), changed_at
            from releasekit.{CalendarTables.Objects}
            where publisher = $1 and collection = $2 and revision > $3 order by revision limit $4
            """,
            cancel, publisher, collection, revision, most);

    /// <summary>Gives an object another revision, so that who holds another version of it reads it again.</summary>
    public async Task ServeAnew(string publisher, string collection, string name, CancellationToken cancel)
    {
        await using var command = database.Command(
            $"""
            with counted as (
              update releasekit.{CalendarTables.Collections} set revision = revision + 1
              where publisher = $1 and collection = $2 returning revision)
            update releasekit.{CalendarTables.Objects} set revision = (select revision from counted)
            where publisher = $1 and collection = $2 and name = $3
            """,
            publisher, collection, name);
        await command.ExecuteNonQueryAsync(cancel);
    }

    private static string Body(bool isWanted) =>
        isWanted ? "body" : "case when body is null then null else ''::bytea end";

    private async Task<IReadOnlyList<StoredObject>> Read(string sql, CancellationToken cancel, params object[] values)
    {
        await using var command = database.Command(sql, values);
        await using var rows = await command.ExecuteReaderAsync(cancel);
        var objects = new List<StoredObject>();

        while (await rows.ReadAsync(cancel))
        {
            objects.Add(new(
                rows.GetString(0),
                rows.GetString(1),
                rows.GetInt64(2),
                await rows.IsDBNullAsync(3, cancel) ? null : rows.GetFieldValue<byte[]>(3),
                rows.GetInt32(4),
                rows.GetFieldValue<Instant>(5)));
        }

        return objects;
    }
}
