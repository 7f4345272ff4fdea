using Marten;

namespace Releasekit.Server.Search;

/// <summary>Whether something of the publisher's is at an address.</summary>
internal static class KnownAddresses
{
    private const string Sql = $"""
        select link from unnest($2) link
        where not exists (select from {SearchTables.Entries} where publisher = $1 and address = link)
        """;

    /// <summary>Those of <paramref name="addresses"/> where nothing is.</summary>
    public static async Task<IReadOnlyList<string>> Missing(
        IQuerySession session, string[] addresses, CancellationToken cancel)
    {
        if (addresses.Length == 0)
        {
            return [];
        }

        await using var command = Store.Sql.Command(Sql, session.TenantId, addresses);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);
        var missing = new List<string>();

        while (await rows.ReadAsync(cancel))
        {
            missing.Add(rows.GetString(0));
        }

        return missing;
    }
}
