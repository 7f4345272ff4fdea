using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>
/// What is wrong with the columns of a file, told in a few words however long and many the names in it are.
/// </summary>
internal sealed class ColumnFaults
{
    public const string Semicolons =
        "The columns are separated by semicolons; RFC 4180 separates them by commas. Save the file with commas.";

    private const int MostTold = 20;
    private const int MostNames = 20;
    private const int LongestShown = 40;

    private readonly List<ProblemError> _told = [];
    private int _untold;

    public bool Any => _told.Count > 0;

    /// <param name="place">header, or the query parameter at fault.</param>
    public void Add(string place, string fault)
    {
        if (_told.Count < MostTold)
        {
            _told.Add(new(place, fault));
        }
        else
        {
            _untold++;
        }
    }

    /// <summary>The problem that tells all; null when there is none.</summary>
    public Problem? ToProblem()
    {
        if (!Any)
        {
            return null;
        }

        IReadOnlyList<ProblemError> errors = _untold == 0
            ? _told
            : [.. _told, new("header", $"And {_untold} faults more.")];

        return Problems.Of("import.columns", string.Join(" ", errors.Select(error => error.Detail)), errors);
    }

    /// <summary>A text of the file, shortened where it is long, and without what cannot be shown or kept.</summary>
    public static string Shown(string text)
    {
        var cut = text.Length > LongestShown;
        var end = cut && char.IsHighSurrogate(text[LongestShown - 1]) ? LongestShown - 1 : LongestShown;
        var shown = cut ? text[..end] + "…" : text;

        return shown.Any(char.IsControl) ? string.Concat(shown.Select(c => char.IsControl(c) ? ' ' : c)) : shown;
    }

    /// <summary>Names in a row, the first of them where they are many.</summary>
    public static string Listed(IReadOnlyCollection<string> names) =>
        string.Join(", ", names.Take(MostNames).Select(Shown))
        + (names.Count > MostNames ? $" and {names.Count - MostNames} more" : string.Empty);
}
