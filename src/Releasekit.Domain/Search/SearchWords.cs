using System.Globalization;
using System.Text;

namespace Releasekit.Domain.Search;

/// <summary>
/// The words of a text as search compares them: runs of letters and digits, without case and without marks above or
/// below letters, so that <c>Praía</c> is found as <c>praia</c>.
/// </summary>
public static class SearchWords
{
    /// <summary>The words in the order they stand, repeated ones as well.</summary>
    public static IEnumerable<string> Of(string text) =>
        Spans(text).Select(span => Fold(text[span])).Where(word => word.Length > 0);

    /// <summary>Where the words stand in the text as it was written.</summary>
    public static IEnumerable<Range> Spans(string text)
    {
        for (var start = 0; start < text.Length; start++)
        {
            if (!IsOfWord(text, start))
            {
                continue;
            }

            var end = start + 1;

            while (end < text.Length && (IsOfWord(text, end) || char.IsSurrogatePair(text, end - 1)))
            {
                end++;
            }

            yield return start..end;
            start = end;
        }
    }

    /// <summary>One word as it is compared: decomposed (NFKD), without combining marks, lower-case.</summary>
    public static string Fold(string word)
    {
        // Unpaired surrogates have no normal form.
        var whole = string.Concat(word.EnumerateRunes());
        var letters = new StringBuilder(word.Length);

        foreach (var c in whole.Normalize(NormalizationForm.FormKD))
        {
            if (CharUnicodeInfo.GetUnicodeCategory(c)
                is not (UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark))
            {
                letters.Append(char.ToLowerInvariant(c));
            }
        }

        return letters.ToString();
    }

    private static bool IsOfWord(string text, int at) => CharUnicodeInfo.GetUnicodeCategory(text, at)
        is UnicodeCategory.UppercaseLetter or UnicodeCategory.LowercaseLetter or UnicodeCategory.TitlecaseLetter
        or UnicodeCategory.ModifierLetter or UnicodeCategory.OtherLetter or UnicodeCategory.NonSpacingMark
        or UnicodeCategory.SpacingCombiningMark or UnicodeCategory.EnclosingMark
        or UnicodeCategory.DecimalDigitNumber or UnicodeCategory.LetterNumber or UnicodeCategory.OtherNumber;
}
