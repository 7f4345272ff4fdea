using JasperFx.Events;
using Marten;
using Npgsql;

namespace Releasekit.Server.Store;

/// <summary>
/// The events of a publisher in the order of their numbers, for readers that go on where they stopped. Numbers are
/// given out before they are committed: a smaller one may come to be seen after a larger one. So that nobody passes
/// over it, the log ends before whatever a transaction that is still open could fill in.
/// </summary>
internal sealed class EventLog(NpgsqlDataSource database)
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(20);

    /// <summary>How long one reading waits for open transactions before it is content with less.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    private const string LastNumber = "select last_value from releasekit.mt_events_sequence";

    private const string OpenTransactions = """
        select pid from pg_stat_activity
        where datname = current_database() and backend_type = 'client backend' and pid <> pg_backend_pid()
          and xact_start is not null and xact_start <= $1
        """;

    private const string FirstGap = """
        select seq_id + 1 from releasekit.mt_events e
        where seq_id >= $1 and seq_id < $2
          and not exists (select from releasekit.mt_events n where n.seq_id = e.seq_id + 1)
        order by seq_id limit 1
        """;

    /// <summary>Up to which number nothing more can come, that one included; never more than was committed.</summary>
    /// <param name="after">Where the reader stands.</param>
    public async Task<long> SettledUpTo(long after, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        var last = await Ask<long>(connection, LastNumber, cancel);
        var asked = await Ask<DateTime>(connection, "select clock_timestamp()", cancel);
        var waited = TimeSpan.Zero;

        // Whoever began before this moment may hold a number up to the last; who begins later gets a larger one.
        while (await AnyOpen(connection, asked, cancel))
        {
            if (waited >= Patience)
            {
                return await BeforeGap(connection, after, last, cancel);
            }

            await Task.Delay(Step, cancel);
            waited += Step;
        }

        return last;
    }

    /// <summary>The publisher's events with numbers from after to last, in order.</summary>
    public static Task<IReadOnlyList<IEvent>> Read(
        IQuerySession session, long after, long last, int most, CancellationToken cancel) =>
        session.Events.QueryAllRawEvents()
            .Where(e => e.Sequence > after && e.Sequence <= last)
            .OrderBy(e => e.Sequence)
            .Take(most)
            .ToListAsync(cancel);

    private static async Task<long> BeforeGap(
        NpgsqlConnection connection, long after, long last, CancellationToken cancel)
    {
        await using var ask = Sql.Command(FirstGap, after, last);
        ask.Connection = connection;
        var gap = await ask.ExecuteScalarAsync(cancel);

        return gap is long first ? first - 1 : last;
    }

    private static async Task<bool> AnyOpen(NpgsqlConnection connection, DateTime began, CancellationToken cancel)
    {
        await using var ask = Sql.Command(OpenTransactions, began);
        ask.Connection = connection;
        await using var rows = await ask.ExecuteReaderAsync(cancel);
        return await rows.ReadAsync(cancel);
    }

    private static async Task<T> Ask<T>(NpgsqlConnection connection, string sql, CancellationToken cancel)
    {
        await using var ask = Sql.Command(sql);
        ask.Connection = connection;
        await using var rows = await ask.ExecuteReaderAsync(cancel);
        await rows.ReadAsync(cancel);
        return await rows.GetFieldValueAsync<T>(0, cancel);
    }
}
