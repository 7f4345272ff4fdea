using Npgsql;
using Releasekit.Domain.Search;
using Releasekit.Server.Store;

namespace Releasekit.Server.Search;

/// <summary>
/// What was typed, and what it may mean among the words that the publisher has: words that begin with it, or, when
/// there are none, words that it may be a typing error of.
/// </summary>
internal sealed class SearchQuestion
{
    private const int MostWords = 12;
    private const int LongestTyped = 40;
    private const int MostMeanings = 30;

    private const string MeaningsSql = $"""
        select typed.word, null from unnest($2) typed(word)
        where exists (select from {SearchTables.Words} known where known.publisher = $1
          and known.word ~>=~ typed.word and known.word ~<~ (typed.word || chr(1114111)))
        union all
        select typed.word, known.word from unnest($2) typed(word) join {SearchTables.Words} known
        on known.publisher = $1 and length(known.word) >= length(typed.word) - 2
          and (levenshtein_less_equal(known.word, typed.word, 3) <= 3
            or levenshtein_less_equal(left(known.word, length(typed.word)), typed.word, 2) <= 2)
        where length(typed.word) > 2 and ($3 or not exists (select from {SearchTables.Words} known
          where known.publisher = $1 and known.word ~>=~ typed.word and known.word ~<~ (typed.word || chr(1114111))))
        """;

    private readonly Dictionary<string, List<string>> _meanings;

    private SearchQuestion(IReadOnlyList<string> typed, Dictionary<string, List<string>> meanings, bool isLenient) =>
        (Typed, _meanings, IsLenient) = (typed, meanings, isLenient);

    /// <summary>The words that were typed, folded.</summary>
    public IReadOnlyList<string> Typed { get; }

    /// <summary>Whether typing errors were looked for in every word.</summary>
    public bool IsLenient { get; }

    /// <summary>The words of a question; the rest of a very long one is left out.</summary>
    public static string[] WordsOf(string question) =>
        [.. SearchWords.Of(question).Where(word => word.Length <= LongestTyped).Distinct().Take(MostWords)];

    /// <param name="isLenient">Looks for typing errors also where a word is known as it was typed.</param>
    public static async Task<SearchQuestion> Read(
        NpgsqlDataSource database, string publisher, string[] typed, bool isLenient, CancellationToken cancel)
    {
        var meanings = typed.ToDictionary(word => word, _ => new List<string>());
        await using var command = database.Command(MeaningsSql, publisher, typed, isLenient);
        await using var rows = await command.ExecuteReaderAsync(cancel);

        while (await rows.ReadAsync(cancel))
        {
            var word = rows.GetString(0);

            if (await rows.IsDBNullAsync(1, cancel))
            {
                meanings[word].Add(word);
            }
            else if (rows.GetString(1) is var known && TypingErrors.MayMean(word, known))
            {
                meanings[word].Add(known);
            }
        }

        // Where no word is known as it was typed, they were looked for already.
        return new(typed, meanings, isLenient || meanings.All(word => !word.Value.Contains(word.Key)));
    }

    /// <summary>As PostgreSQL's to_tsquery reads it; null when nothing can be found.</summary>
    /// <param name="all">Whether every word must be met, or any.</param>
    public string? Terms(bool all)
    {
        string[] words = [.. Typed.Select(TermOf).OfType<string>()];
        return words.Length == 0 || (all && words.Length < Typed.Count)
            ? null
            : string.Join(all ? " & " : " | ", words);
    }

    /// <summary>Whether a folded word of a text answers the question.</summary>
    public bool IsHit(string word) => _meanings.Any(typed => typed.Value.Exists(meant =>
        meant == typed.Key ? word.StartsWith(meant, StringComparison.Ordinal) : word == meant));

    /// <summary>Words hold letters and digits only, so that nothing in them needs quoting beyond the quotes.</summary>
    private string? TermOf(string typed)
    {
        var nearest = _meanings[typed].Distinct()
            .OrderBy(meant => TypingErrors.Between(typed, meant)).Take(MostMeanings)
            .Select(meant => meant == typed ? $"'{meant}':*" : $"'{meant}'")
            .ToArray();
        return nearest.Length == 0 ? null : $"({string.Join(" | ", nearest)})";
    }
}
