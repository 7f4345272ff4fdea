using System.Text.Json;
using Marten;
using Npgsql;
using NpgsqlTypes;
using Releasekit.Domain.Releases;
using Releasekit.Server.Store;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace Releasekit.Server.Imports;

/// <summary>A row that waits to be checked and imported.</summary>
/// <param name="Line">Where it begins in the file.</param>
internal sealed record StagedRow(int Row, int Line, ImportedRelease Release);

/// <summary>The rows of running imports, outside of memory: read, checked and taken in by the hundred.</summary>
internal static class StagedRows
{
    private const string TableName = "releasekit.import_rows";

    /// <summary>Forgets the rows of a run up to one, in the transaction that takes them in.</summary>
    public const string ForgetUntilSql = $"delete from {TableName} where run = ? and row <= ?";

    /// <summary>Forgets all rows of a run.</summary>
    public const string ForgetSql = $"delete from {TableName} where run = ?";

    /// <summary>Forgets all rows of a publisher.</summary>
    public const string ForgetPublisherSql = $"delete from {TableName} where publisher = ?";

    private const string RepeatedSql = $"""
        select line, first, what, (count(*) over ())::int from (
            select line, first_value(line) over same as first, identity as what from {TableName}
            where run = $1 and identity in (
                select identity from {TableName} where run = $1 group by identity having count(*) > 1)
            window same as (partition by identity order by row)
            union all
            select line, first_value(line) over same, 'slot ' || slot from {TableName}
            where run = $1 and identity not like 'slot %' and slot in (
                select slot from {TableName} where run = $1 group by slot having count(*) > 1)
            window same as (partition by slot order by row)) as repeated
        where line <> first
        order by line
        limit $2
        """;

    public static readonly JsonSerializerOptions Json = StoredJson.Configured(
        new JsonSerializerOptions(JsonSerializerDefaults.Web));

    public static Table Table(string schema)
    {
        var table = new Table(new PostgresqlObjectName(schema, "import_rows", SchemaUtils.IdentifierUsage.General));
        table.AddColumn<Guid>("run").AsPrimaryKey();
        table.AddColumn<int>("row").AsPrimaryKey();
        table.AddColumn<string>("publisher").NotNull();
        table.AddColumn<int>("line").NotNull();
        table.AddColumn<string>("identity").NotNull();
        table.AddColumn("slot", "date");
        table.AddColumn("release", "jsonb").NotNull();
        return table;
    }

    /// <summary>Opens the way into the table for the rows of one upload, inside its transaction.</summary>
    public static Task<NpgsqlBinaryImporter> Copy(NpgsqlConnection connection, CancellationToken cancel) =>
        connection.BeginBinaryImportAsync(
        $"copy {TableName} (run, row, publisher, line, identity, slot, release) from stdin (format binary)",
        cancel);

    public static async Task Write(
        NpgsqlBinaryImporter copy, Guid run, string publisher, StagedRow staged, string identity,
        CancellationToken cancel)
    {
        await copy.StartRowAsync(cancel);
        await copy.WriteAsync(run, NpgsqlDbType.Uuid, cancel);
        await copy.WriteAsync(staged.Row, NpgsqlDbType.Integer, cancel);
        await copy.WriteAsync(publisher, NpgsqlDbType.Varchar, cancel);
        await copy.WriteAsync(staged.Line, NpgsqlDbType.Integer, cancel);
        await copy.WriteAsync(identity, NpgsqlDbType.Varchar, cancel);

        if (staged.Release.Slot is { } slot)
        {
            await copy.WriteAsync(slot, NpgsqlDbType.Date, cancel);
        }
        else
        {
            await copy.WriteNullAsync(cancel);
        }

        await copy.WriteAsync(JsonSerializer.Serialize(staged.Release, Json), NpgsqlDbType.Jsonb, cancel);
    }

    /// <summary>The rows of a run after row <paramref name="after"/>.</summary>
    public static async Task<IReadOnlyList<StagedRow>> Next(
        IQuerySession session, Guid run, int after, int most, CancellationToken cancel)
    {
        await using var next = Sql.Command(
            $"select row, line, release from {TableName} where run = $1 and row > $2 order by row limit $3",
            run, after, most);
        await using var rows = await session.ExecuteReaderAsync(next, cancel);
        var staged = new List<StagedRow>();

        while (await rows.ReadAsync(cancel))
        {
            staged.Add(
                new(
                    rows.GetInt32(0),
                    rows.GetInt32(1),
                    JsonSerializer.Deserialize<ImportedRelease>(rows.GetString(2), Json)!));
        }

        return staged;
    }

    /// <summary>
    /// Rows of the file that are the same release, or for the same slot, as an earlier one: the first of them by line,
    /// and how many they are.
    /// </summary>
    public static async Task<(IReadOnlyList<RowError> First, int All)> Repeated(
        IQuerySession session, Guid run, CancellationToken cancel)
    {
        await using var repeated = Sql.Command(RepeatedSql, run, ImportRun.MostErrorsKept);
        await using var rows = await session.ExecuteReaderAsync(repeated, cancel);
        var (errors, all) = (new List<RowError>(), 0);

        while (await rows.ReadAsync(cancel))
        {
            var (line, first) = (rows.GetInt32(0), rows.GetInt32(1));
            all = rows.GetInt32(3);
            errors.Add(
                new(line, null, $"The row tells of the same release as line {first} ({rows.GetString(2)}); "
                    + "each may stand once."));
        }

        return (errors, all);
    }
}
