using Npgsql;
using Releasekit.Server.Access;

namespace Releasekit.Server.Store;

/// <summary>
/// Reads a token by its id with one prepared statement: it is asked for with
/// every request, and a session of its own would cost more than the question.
/// </summary>
internal sealed class TokenTable(NpgsqlDataSource database)
{
    private const string Ask = """
        select data ->> 'digest', data ->> 'publisher', data ->> 'name',
               array(select jsonb_array_elements_text(data -> 'scopes')),
               (data ->> 'createdAt')::timestamptz, (data ->> 'lastUsedAt')::timestamptz
        from releasekit.mt_doc_accesstoken where id = $1
        """;

    /// <summary>Whether a token is still there, asked in the middle of a transaction.</summary>
    public static async Task<bool> Has(Guid id, NpgsqlConnection connection, CancellationToken cancel)
    {
        await using var ask = Sql.Command("select from releasekit.mt_doc_accesstoken where id = $1", id);
        ask.Connection = connection;
        await using var row = await ask.ExecuteReaderAsync(cancel);

        return await row.ReadAsync(cancel);
    }

    public async Task<AccessToken?> Find(Guid id, CancellationToken cancel)
    {
        await using var ask = database.Command(Ask, id);
        await using var row = await ask.ExecuteReaderAsync(cancel);

        return await row.ReadAsync(cancel)
            ? new(
                id,
                row.GetString(0),
                row.GetString(1),
                row.GetString(2),
                [.. row.GetFieldValue<string[]>(3).Select(Enum.Parse<Scope>)],
                row.GetFieldValue<Instant>(4),
                await row.IsDBNullAsync(5, cancel) ? null : row.GetFieldValue<Instant>(5))
            : null;
    }
}
