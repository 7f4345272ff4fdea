using Marten;
using Releasekit.Domain.Search;

namespace Releasekit.Server.Search;

/// <summary>What a thing is found by.</summary>
/// <param name="Body">What else is searched; weighs less than the title.</param>
internal sealed record Searchable(string Title, string Body, Instant ChangedAt);

/// <summary>Puts things where search finds them, in the transaction that stores them.</summary>
internal static class SearchIndex
{
    private const int LongestWord = 40;
    private const int MostWords = 3_000;

    private const string PutSql = $"""
        with entry as (
          insert into {SearchTables.Entries}
            (publisher, kind, id, address, title, body, folded_title, terms, changed_at)
          select ?, ?, ?, ?, ?, ?, folded.title,
            setweight(to_tsvector('simple', folded.title), 'A')
              || setweight(to_tsvector('simple', folded.body), 'C'), ?
          from (select cast(? as text) as title, cast(? as text) as body) folded
          on conflict (publisher, kind, id) do update set address = excluded.address, title = excluded.title,
            body = excluded.body, folded_title = excluded.folded_title, terms = excluded.terms,
            changed_at = excluded.changed_at
        )
        insert into {SearchTables.Words} (publisher, word) select ?, word from unnest(cast(? as text[])) word
        on conflict do nothing
        """;

    public static void Put(IDocumentOperations session, string kind, Guid id, string address, Searchable found)
    {
        var publisher = session.TenantId;
        string[] title = [.. SearchWords.Of(found.Title)];
        string[] body = [.. SearchWords.Of(found.Body)];

        // In order, so that two who write the same words do not wait for each other in a circle.
        string[] words =
        [
            .. title.Concat(body).Where(word => word.Length <= LongestWord).Distinct().Take(MostWords)
                .Order(StringComparer.Ordinal),
        ];

        session.QueueSqlCommand(
            PutSql, publisher, kind, id, address, Kept(found.Title), Kept(found.Body), found.ChangedAt,
            string.Join(' ', title), string.Join(' ', body), publisher, words);
    }

    public static void Remove(IDocumentOperations session, string kind, Guid id) => session.QueueSqlCommand(
        $"delete from {SearchTables.Entries} where publisher = ? and kind = ? and id = ?", session.TenantId, kind, id);

    /// <summary>Forgets everything of a publisher.</summary>
    public static void Forget(IDocumentOperations session, string publisher)
    {
        session.QueueSqlCommand($"delete from {SearchTables.Entries} where publisher = ?", publisher);
        session.QueueSqlCommand($"delete from {SearchTables.Words} where publisher = ?", publisher);
    }

    /// <summary>PostgreSQL keeps no zero characters and no halves of characters.</summary>
    private static string Kept(string text) =>
        string.Concat(text.EnumerateRunes()).Replace("\0", string.Empty, StringComparison.Ordinal);
}
