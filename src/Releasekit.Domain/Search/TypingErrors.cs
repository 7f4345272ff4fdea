namespace Releasekit.Domain.Search;

/// <summary>Whether one word may be another, mistyped.</summary>
public static class TypingErrors
{
    /// <summary>
    /// Least number of letters put in, left out, exchanged, or swapped with the neighbour, each place edited once
    /// (optimal string alignment; Damerau 1964, Wagner and Fischer 1974, from memory).
    /// </summary>
    public static int Between(string one, string other)
    {
        var (before, last) = (new int[other.Length + 1], new int[other.Length + 1]);
        var row = Enumerable.Range(0, other.Length + 1).ToArray();

        for (var i = 1; i <= one.Length; i++)
        {
            (before, last, row) = (last, row, before);
            row[0] = i;

            for (var j = 1; j <= other.Length; j++)
            {
                var changed = last[j - 1] + (one[i - 1] == other[j - 1] ? 0 : 1);
                row[j] = Math.Min(changed, Math.Min(last[j], row[j - 1]) + 1);

                if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
                {
                    row[j] = Math.Min(row[j], before[j - 2] + 1);
                }
            }
        }

        return row[other.Length];
    }

    /// <summary>
    /// Whether <paramref name="word"/> may be meant by <paramref name="typed"/>, or begin with what is meant: one error
    /// in three to five letters, two in more, none in fewer (common practice, no source).
    /// </summary>
    public static bool MayMean(string typed, string word)
    {
        var allowed = typed.Length switch { < 3 => 0, <= 5 => 1, _ => 2 };
        return Between(typed, word) <= allowed
            || (allowed > 0 && word.Length > typed.Length && Between(typed, word[..typed.Length]) <= 1);
    }
}
