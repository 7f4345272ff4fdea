namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// Content lines out of physical ones (RFC 5545, 3.1). A line may end in LF alone, be of any length, and stand among
/// empty lines, which are dropped.
/// </summary>
internal static class UnfoldedLines
{
    private const int MostPhysicalLines = 50_000;

    /// <exception cref="BodyRefusedException">A line is none, or there are too many.</exception>
    public static List<CalendarLine> Read(string text)
    {
        var lines = new List<CalendarLine>();
        var folded = new List<Range>();
        var physical = 0;
        foreach (var range in text.AsSpan().Split('\n'))
        {
            if (++physical > MostPhysicalLines)
            {
                throw new BodyRefusedException(BodyFault.TooLarge($"There are more than {MostPhysicalLines} lines."));
            }

            var (start, length) = range.GetOffsetAndLength(text.Length);
            length -= length > 0 && text[start + length - 1] == '\r' ? 1 : 0;
            var isContinued = length > 0 && text[start] is ' ' or '\t';
            if (!isContinued)
            {
                Take(text, folded, lines);
            }

            if (length > 0)
            {
                folded.Add((start + (isContinued ? 1 : 0))..(start + length));
            }
        }

        Take(text, folded, lines);
        return lines;
    }

    private static void Take(string text, List<Range> folded, List<CalendarLine> lines)
    {
        if (folded.Count == 0)
        {
            return;
        }

        var line = folded.Count == 1 ? text[folded[0]] : string.Concat(folded.Select(part => text[part]));
        lines.Add(CalendarLine.TryParse(line) ?? throw new BodyRefusedException(BodyFault.Malformed(
            $"Line {lines.Count + 1} (unfolded) is no NAME:value, or holds a control character.")));
        folded.Clear();
    }
}
