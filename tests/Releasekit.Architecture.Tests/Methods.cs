using System.Text.RegularExpressions;

namespace Releasekit.Architecture.Tests;

/// <summary>A method, from its name to its last line.</summary>
/// <param name="FirstLine">Counts from 1.</param>
internal sealed record Method(string Name, int FirstLine, int Lines);

/// <summary>
/// Finds the methods of a source by its layout, which the formatter keeps: a
/// member stands four columns into its type, and ends with a brace in the same
/// column, or with the last line that is indented further.
/// </summary>
internal static partial class Methods
{
    public static IEnumerable<Method> Of(Source source)
    {
        for (var i = 0; i < source.Lines.Count; i++)
        {
            if (Head().Match(source.Lines[i]) is { Success: true } head)
            {
                var last = LastLine(source.Lines, i, head.Groups["indent"].Length);
                yield return new Method(head.Groups["name"].Value, i + 1, last - i + 1);
                i = last;
            }
        }
    }

    private static int LastLine(IReadOnlyList<string> lines, int first, int indent)
    {
        var last = first;

        for (var i = first + 1; i < lines.Count; i++)
        {
            var line = lines[i];
            var depth = line.Length - line.TrimStart().Length;

            if (line.Length > 0 && depth < indent)
            {
                break;
            }

            if (line.Length > 0 && depth == indent)
            {
                return line.TrimStart() is ['{', ..] or [']', ..] or [')', ..] ? LastLine(lines, i, indent)
                    : line.TrimStart() is ['}', ..] ? i
                    : last;
            }

            last = line.Length > 0 ? i : last;
        }

        return last;
    }

    [GeneratedRegex(
        @"^(?<indent>(?: {4}){1,2})(?!return |await |throw |new |using |yield |else |if |for|while|switch|lock|\.|\?|:)"
        + @"(?:[\w<>\[\],.?() ]+ )(?<name>[A-Z]\w*)(?:<[\w, ]+>)?\((?!.*;\s*$)")]
    private static partial Regex Head();
}
