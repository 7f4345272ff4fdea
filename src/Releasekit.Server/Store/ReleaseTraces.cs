using Marten;
using Releasekit.Domain.Releases;

namespace Releasekit.Server.Store;

/// <summary>
/// Reads of releases what was done to them, without their documents: the column is kept by the projection of releases,
/// in the transaction of the event.
/// </summary>
internal static class ReleaseTraces
{
    private const string OfAll = """
        select id, series, trace from releasekit.mt_doc_release
        where tenant_id = $1 and ($2::text is null or series = $2) order by id
        """;

    /// <summary>In the order they were entered, dropped ones too.</summary>
    /// <param name="series">The slug of a series; null for all.</param>
    public static async Task<IReadOnlyList<Release>> Load(
        IQuerySession session, string? series, CancellationToken cancel)
    {
        await using var command = Sql.Command(OfAll, session.TenantId, (object?)series ?? DBNull.Value);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);
        var releases = new List<Release>();
        var older = new List<Guid>();

        while (await rows.ReadAsync(cancel))
        {
            if (await rows.IsDBNullAsync(2, cancel))
            {
                older.Add(rows.GetGuid(0));
            }
            else
            {
                releases.Add(ReleaseTrace.Read(rows.GetGuid(0), rows.GetString(1), rows.GetString(2)));
            }
        }

        await rows.DisposeAsync();

        // Written before the column was there, and not changed since.
        return older.Count == 0
            ? releases
            : [.. releases.Concat(await session.LoadManyAsync<Release>(cancel, older)).OrderBy(one => one.Id)];
    }
}
