namespace Releasekit.Domain.Search;

/// <summary>The part of a text where the words that were looked for stand, cut to a line or two.</summary>
public static class SearchExtract
{
    private const int Before = 50;
    private const int Length = 180;

    /// <summary>
    /// Pieces of the text in order, hits apart from the rest; the beginning of the text where nothing was hit. An
    /// ellipsis stands where something was left out.
    /// </summary>
    /// <param name="isHit">Told a word as <see cref="SearchWords"/> folds it.</param>
    public static IReadOnlyList<ExtractPiece> Of(string text, Func<string, bool> isHit)
    {
        var line = Flattened(text);
        var words = SearchWords.Spans(line).Select(span => (Span: span, IsHit: isHit(SearchWords.Fold(line[span]))));
        var hits = words.Where(word => word.IsHit).Select(word => word.Span).ToArray();
        var (start, end) = Window(line, hits);
        var pieces = new List<ExtractPiece>();
        var at = start;

        foreach (var hit in hits.Where(hit => hit.Start.Value >= start && hit.End.Value <= end))
        {
            Add(line[at..hit.Start.Value], false);
            Add(line[hit], true);
            at = hit.End.Value;
        }

        Add(line[at..end], false);

        return
        [
            .. start > 0 ? [new ExtractPiece("…", false)] : Array.Empty<ExtractPiece>(),
            .. pieces,
            .. end < line.Length ? [new ExtractPiece("…", false)] : Array.Empty<ExtractPiece>(),
        ];

        void Add(string piece, bool isHit)
        {
            if (piece.Length > 0)
            {
                pieces.Add(new(piece, isHit));
            }
        }
    }

    private static string Flattened(string text) =>
        string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>From a blank before the first hit to a blank, or the end; within a very long word anywhere.</summary>
    private static (int Start, int End) Window(string line, Range[] hits)
    {
        if (line.Length <= Length)
        {
            return (0, line.Length);
        }

        var first = hits.Length == 0 ? 0 : hits[0].Start.Value;
        var latest = Math.Max(0, first - Before);
        var blank = latest == 0 ? -1 : line.IndexOf(' ', latest, first - latest);
        var start = latest == 0 ? 0 : blank < 0 ? first : blank + 1;

        if (line.Length - start <= Length)
        {
            return (start, line.Length);
        }

        var end = line.LastIndexOf(' ', start + Length, Length);
        var needed = hits.Length == 0 ? start : hits[0].End.Value;
        return (start, Math.Max(end, needed) is var cut && cut > start ? cut : start + Length);
    }
}

/// <summary>A piece of a text.</summary>
/// <param name="IsHit">Whether it is a word that was looked for.</param>
public sealed record ExtractPiece(string Text, bool IsHit);
