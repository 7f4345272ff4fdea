namespace Releasekit.Domain.Entries;

/// <summary>What a list shows of a longer text.</summary>
public static class FirstLine
{
    private static readonly char[] Breaks = ['\n', '\r', '\u2028', '\u2029'];

    /// <summary>
    /// The first line that is not blank, tabs as spaces, cut to the length of a title with an ellipsis.
    /// </summary>
    public static string Of(string text)
    {
        var line = text
            .Split(Breaks, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .FirstOrDefault(string.Empty)
            .Replace('\t', ' ');

        if (line.Length <= Wording.LongestTitle)
        {
            return line;
        }

        // A pair of surrogates is one character: never keep half of it.
        var end = Wording.LongestTitle - 1;
        return $"{line[..(char.IsHighSurrogate(line[end - 1]) ? end - 1 : end)].TrimEnd()}…";
    }
}
