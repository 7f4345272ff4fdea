using System.Text;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>TEXT values (RFC 5545, 3.3.11).</summary>
internal static class TextValues
{
    /// <summary>A text as a value. Line ends of any kind become \n; other control characters but the tab go.</summary>
    public static string Escape(string text)
    {
        var value = new StringBuilder(text.Length);
        foreach (var character in text.ReplaceLineEndings("\n"))
        {
            _ = character switch
            {
                '\n' => value.Append("\\n"),
                '\\' or ';' or ',' => value.Append('\\').Append(character),
                _ when new ReadOnlySpan<char>(in character).ContainsAnyForbidden() => value,
                _ => value.Append(character),
            };
        }

        return value.ToString();
    }

    /// <summary>A value as a text; a backslash before anything else stays.</summary>
    public static string Unescape(string value)
    {
        if (!value.Contains('\\', StringComparison.Ordinal))
        {
            return value;
        }

        var text = new StringBuilder(value.Length);
        for (var i = 0; i < value.Length; i++)
        {
            var next = value[i] == '\\' && i + 1 < value.Length ? value[i + 1] : '\0';
            (var character, i) = next switch
            {
                'n' or 'N' => ('\n', i + 1),
                '\\' or ';' or ',' => (next, i + 1),
                _ => (value[i], i),
            };
            text.Append(character);
        }

        return text.ToString();
    }

    /// <summary>The texts of a list: parted at the commas that are not escaped, none of them empty.</summary>
    public static IEnumerable<string> Split(string value)
    {
        var start = 0;
        for (var i = 0; i <= value.Length; i++)
        {
            if (i + 1 < value.Length && value[i] == '\\')
            {
                i++;
            }
            else if (i == value.Length || value[i] == ',')
            {
                if (Unescape(value[start..i]).Trim() is { Length: > 0 } text)
                {
                    yield return text;
                }

                start = i + 1;
            }
        }
    }
}
