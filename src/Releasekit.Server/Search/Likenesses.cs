using Marten;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Search;

namespace Releasekit.Server.Search;

/// <summary>Finds ideas and releases whose titles have most of their trigrams in common with a text.</summary>
internal static class Likenesses
{
    private const int Most = 5;
    private const double Least = 0.4;

    private const string Sql = $"""
        select address, title, similarity(folded_title, $2) as alike from {SearchTables.Entries}
        where publisher = $1 and kind in ('idea', 'release') and folded_title % $2 and id <> $3
          and similarity(folded_title, $2) >= $4
        order by alike desc, id limit $5
        """;

    /// <summary>The most alike first; never the thing itself.</summary>
    public static async Task<IReadOnlyList<Likeness>> Of(
        IQuerySession session, Guid self, string title, CancellationToken cancel)
    {
        var folded = string.Join(' ', SearchWords.Of(title));
        await using var command = Store.Sql.Command(Sql, session.TenantId, folded, self, Least, Most);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);
        var found = new List<Likeness>();

        while (await rows.ReadAsync(cancel))
        {
            found.Add(new(rows.GetString(0), rows.GetString(1), Math.Round(rows.GetFloat(2), 2)));
        }

        return found;
    }
}
