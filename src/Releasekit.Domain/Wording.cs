using System.Globalization;
using System.Text;

namespace Releasekit.Domain;

/// <summary>
/// What may be written as a title, a note or a name: rules that keep text safe in calendars, headers and logs.
/// </summary>
public static class Wording
{
    /// <summary>The longest title, in characters.</summary>
    public const int LongestTitle = 200;

    /// <summary>The longest note or reason, in characters.</summary>
    public const int LongestNote = 4_000;

    /// <summary>The longest key or slug, in characters.</summary>
    public const int LongestKey = 64;

    private const char LineSeparator = '\u2028';
    private const char ParagraphSeparator = '\u2029';

    /// <summary>What is wrong with a text of one line; null when nothing is.</summary>
    /// <param name="text">Not blank, no line breaks or other control characters, no direction overrides.</param>
    /// <param name="what">How the text is called in the answer, e.g. "A title".</param>
    public static string? FaultOfLine(string? text, string what, int longest = LongestTitle)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return $"{what} is needed: a text of 1 to {longest} characters that is not blank.";
        }

        return text.Length > longest
            ? $"{what} may have {longest} characters at most; this one has {text.Length}."
            : FaultOfCharacters(text, what, linesAllowed: false);
    }

    /// <summary>What is wrong with a text of several lines; null when nothing is, and for null.</summary>
    public static string? FaultOfText(string? text, string what, int longest = LongestNote)
    {
        if (text is null)
        {
            return null;
        }

        return text.Length > longest
            ? $"{what} may have {longest} characters at most; this one has {text.Length}."
            : FaultOfCharacters(text, what, linesAllowed: true);
    }

    /// <summary>
    /// What is wrong with a key or slug: 1 to 64 lower-case letters, digits and single hyphens; null when nothing is.
    /// </summary>
    public static string? FaultOfKey(string? key, string what)
    {
        var isKey = key is { Length: > 0 and <= LongestKey }
            && key.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c is '-')
            && key[0] != '-' && key[^1] != '-' && !key.Contains("--", StringComparison.Ordinal);

        return isKey
            ? null
            : $"{what} takes 1 to {LongestKey} lower-case letters, digits and single hyphens, such as 'rough-cut'.";
    }

    /// <summary>
    /// A key made from a text, e.g. "Links checked" gives <c>links-checked</c>; "item" where nothing is left.
    /// </summary>
    public static string KeyOf(string text)
    {
        var letters = new StringBuilder();

        foreach (var c in WithoutHalves(text).Normalize(NormalizationForm.FormD).Where(IsNotMark))
        {
            if (char.IsAsciiLetterOrDigit(c))
            {
                letters.Append(char.ToLowerInvariant(c));
            }
            else if (letters is { Length: > 0 } && letters[^1] != '-')
            {
                letters.Append('-');
            }
        }

        var key = letters.ToString().Trim('-');

        return key.Length switch
        {
            0 => "item",
            > LongestKey => key[..LongestKey].Trim('-'),
            _ => key,
        };
    }

    /// <summary>Unpaired surrogates, which no normal form exists for, become replacement characters.</summary>
    private static string WithoutHalves(string text) => string.Concat(text.EnumerateRunes());

    private static bool IsBreakOrControl(char c) => char.IsControl(c) || c is LineSeparator or ParagraphSeparator;

    private static bool IsBreakOrTab(char c) => c is '\n' or '\r' or '\t' or LineSeparator or ParagraphSeparator;

    private static bool IsNotMark(char c) => char.GetUnicodeCategory(c) is not UnicodeCategory.NonSpacingMark;

    private static string? FaultOfCharacters(string text, string what, bool linesAllowed)
    {
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];

            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                i++;
            }
            else if (char.IsSurrogate(c))
            {
                return $"{what} holds half a character (an unpaired surrogate) at position {i + 1}.";
            }
            else if (IsBreakOrControl(c) && !(linesAllowed && IsBreakOrTab(c)))
            {
                return linesAllowed
                    ? $"{what} holds a control character at position {i + 1}; line breaks and tabs are fine, others "
                        + "are not."
                    : $"{what} is one line; there is a line break or control character at position {i + 1}.";
            }
            else if (c is (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069'))
            {
                return $"{what} holds a direction override at position {i + 1}; right-to-left text needs none.";
            }
        }

        return null;
    }
}
