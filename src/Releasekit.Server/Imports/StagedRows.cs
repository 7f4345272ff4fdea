using System.Text.Json;
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
internal sealed class StagedRows(NpgsqlDataSource database)
{
    private const string TableName = "releasekit.import_rows";

    /// <summary>Marks a batch as done, in the transaction that appends it.</summary>
    public const string MarkDoneSql =
        $"update {TableName} set is_done = true where run = ? and row <= ? and not is_done";

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
        table.AddColumn("is_done", "boolean").NotNull();
        return table;
    }

    /// <summary>Opens the way into the table for the rows of one upload, inside its transaction.</summary>
    public static Task<NpgsqlBinaryImporter> Copy(NpgsqlConnection connection, CancellationToken cancel) =>
        connection.BeginBinaryImportAsync(
        $"copy {TableName} (run, row, publisher, line, identity, slot, release, is_done) from stdin (format binary)",
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
        await copy.WriteAsync(false, NpgsqlDbType.Boolean, cancel);
    }

    /// <summary>The next rows that are not done, after row <paramref name="after"/>.</summary>
    public async Task<IReadOnlyList<StagedRow>> Next(Guid run, int after, int most, CancellationToken cancel)
    {
        await using var next = database.Command(
            $"select row, line, release from {TableName} where run = $1 and row > $2 and not is_done "
            + "order by row limit $3", run, after, most);
        await using var rows = await next.ExecuteReaderAsync(cancel);
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

    /// <summary>Rows of the file that are the same release, or for the same slot, as an earlier one.</summary>
    public async Task<IReadOnlyList<RowError>> Repeated(Guid run, CancellationToken cancel)
    {
        await using var repeated = database.Command($"""
            select line, first_value(line) over same, identity from {TableName} where run = $1
            and identity in (select identity from {TableName} where run = $1 group by identity having count(*) > 1)
            window same as (partition by identity order by row)
            union all
            select line, first_value(line) over same, 'slot ' || slot from {TableName}
            where run = $1 and identity not like 'slot %'
            and slot in (select slot from {TableName} where run = $1 group by slot having count(*) > 1)
            window same as (partition by slot order by row)
            """, run);
        await using var rows = await repeated.ExecuteReaderAsync(cancel);
        var errors = new List<RowError>();

        while (await rows.ReadAsync(cancel))
        {
            var (line, first) = (rows.GetInt32(0), rows.GetInt32(1));

            if (line != first)
            {
                errors.Add(
                    new(line, null, $"The row tells of the same release as line {first} ({rows.GetString(2)}); "
                        + "each may stand once."));
            }
        }

        return errors;
    }

    public async Task Forget(Guid run, CancellationToken cancel)
    {
        await using var forget = database.Command($"delete from {TableName} where run = $1", run);
        await forget.ExecuteNonQueryAsync(cancel);
    }

    public async Task ForgetAllOf(string publisher, CancellationToken cancel)
    {
        await using var forget = database.Command($"delete from {TableName} where publisher = $1", publisher);
        await forget.ExecuteNonQueryAsync(cancel);
    }
}
