using Npgsql;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace Releasekit.Server.Store;

/// <summary>When jobs ran and what came of it, for a month.</summary>
internal sealed class JobRuns(NpgsqlDataSource database)
{
    private const string Name = "job_runs";
    private static readonly Duration Kept = Duration.FromDays(30);

    /// <summary>Where Quartz keeps its own tables; they are no business of ours.</summary>
    public const string QuartzSchema = "quartz";

    /// <summary>Forgets the runs for a publisher.</summary>
    public const string ForgetPublisherSql = $"delete from releasekit.{Name} where publisher = ?";

    public static Table Table(string schema)
    {
        var table = new Table(new PostgresqlObjectName(schema, Name, SchemaUtils.IdentifierUsage.General));
        table.AddColumn<Guid>("id").AsPrimaryKey();
        table.AddColumn<string>("job").NotNull().AddIndex();
        table.AddColumn<string>("publisher");
        table.AddColumn<bool>("taken_over").NotNull();
        table.AddColumn("began_at", "timestamptz").NotNull();
        table.AddColumn("ended_at", "timestamptz");
        table.AddColumn<string>("fault");
        return table;
    }

    /// <summary>Makes room for Quartz, which makes its tables but not the schema they are in.</summary>
    public async Task MakeQuartzSchema(CancellationToken cancel)
    {
        await using var make = database.Command($"create schema if not exists {QuartzSchema}");
        await make.ExecuteNonQueryAsync(cancel);
    }

    /// <returns>The id of the run.</returns>
    public async Task<Guid> Begin(
        string job, string? publisher, bool isTakenOver, Instant now, CancellationToken cancel)
    {
        var id = NewIds.Next();
        await using var begin = database.Command(
            $"""
            insert into releasekit.{Name} (id, job, publisher, taken_over, began_at) values ($1, $2, $3, $4, $5)
            """,
            id, job, (object?)publisher ?? DBNull.Value, isTakenOver, now);
        await begin.ExecuteNonQueryAsync(cancel);
        return id;
    }

    public async Task End(Guid id, string? fault, Instant now, CancellationToken cancel)
    {
        await using var end = database.Command(
            $"update releasekit.{Name} set ended_at = $2, fault = $3 where id = $1",
            id, now, (object?)fault ?? DBNull.Value);
        await end.ExecuteNonQueryAsync(cancel);
    }

    /// <summary>The latest runs of a job, newest first.</summary>
    public async Task<IReadOnlyList<JobRun>> Latest(string job, int most, CancellationToken cancel)
    {
        await using var ask = database.Command(
            $"""
            select publisher, taken_over, began_at, ended_at, fault from releasekit.{Name}
            where job = $1 order by id desc limit $2
            """,
            job, most);
        await using var rows = await ask.ExecuteReaderAsync(cancel);
        var runs = new List<JobRun>();

        while (await rows.ReadAsync(cancel))
        {
            runs.Add(new(
                await rows.IsDBNullAsync(0, cancel) ? null : rows.GetString(0),
                rows.GetBoolean(1),
                rows.GetFieldValue<Instant>(2),
                await rows.IsDBNullAsync(3, cancel) ? null : rows.GetFieldValue<Instant>(3),
                await rows.IsDBNullAsync(4, cancel) ? null : rows.GetString(4)));
        }

        return runs;
    }

    /// <summary>Forgets what was kept long enough.</summary>
    public async Task Sweep(Instant now, CancellationToken cancel)
    {
        await using var sweep = database.Command($"delete from releasekit.{Name} where began_at < $1", now - Kept);
        await sweep.ExecuteNonQueryAsync(cancel);
    }
}

/// <summary>One run of a job.</summary>
/// <param name="Publisher">Whom it was for; null for all.</param>
/// <param name="TakenOver">Whether it was begun by a process that died, and is repeated here.</param>
/// <param name="EndedAt">Null while it runs, and for good when its process died.</param>
/// <param name="Fault">Why it failed; null when it did not.</param>
internal sealed record JobRun(
    string? Publisher, bool TakenOver, Instant BeganAt, Instant? EndedAt, string? Fault);
