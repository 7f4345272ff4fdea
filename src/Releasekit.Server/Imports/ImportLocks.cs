using Marten;
using Npgsql;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>
/// Who may write what of an import. All locks are the database's, of one transaction each, and go with it: nobody holds
/// one, or a connection, while waiting for a turn, and a killed process blocks nobody.
/// </summary>
internal static class ImportLocks
{
    private const string Publisher = "hashtextextended('publisher ' || $1, 0)";
    private const string Series = "hashtextextended('import ' || $1 || '/' || $2, 0)";

    /// <summary>
    /// Takes a series for this transaction, and keeps its publisher from being erased meanwhile; false when another
    /// process has it, or the publisher is being erased. Never waits.
    /// </summary>
    public static async Task<bool> TryTake(IDocumentSession session, string series, CancellationToken cancel)
    {
        await using var take = Sql.Command(
            $"select pg_try_advisory_xact_lock_shared({Publisher}), pg_try_advisory_xact_lock({Series})",
            session.TenantId, series);
        await using var taken = await session.ExecuteReaderAsync(take, cancel);

        return await taken.ReadAsync(cancel) && taken.GetBoolean(0) && taken.GetBoolean(1);
    }

    /// <summary>Keeps the publisher from being erased until the transaction ends; waits for an erasure.</summary>
    public static async Task KeepPublisher(NpgsqlConnection connection, string publisher, CancellationToken cancel)
    {
        await using var keep = Sql.Command($"select pg_advisory_xact_lock_shared({Publisher})", publisher);
        keep.Connection = connection;
        await keep.ExecuteNonQueryAsync(cancel);
    }

    /// <summary>Waits until no batch and no upload of the publisher is being written, and lets none begin.</summary>
    public static async Task ExcludeAllOf(IDocumentSession session, CancellationToken cancel)
    {
        await using var exclude = Sql.Command($"select pg_advisory_xact_lock({Publisher})", session.TenantId);
        await session.ExecuteAsync(exclude, cancel);
    }
}
