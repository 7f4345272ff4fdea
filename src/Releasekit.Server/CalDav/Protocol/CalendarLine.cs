using System.Diagnostics.CodeAnalysis;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>A parameter of a property, its name in upper case, its value without the quotes around it.</summary>
internal sealed record LineParameter(string Name, string Value);

/// <summary>One content line (RFC 5545, 3.1), unfolded and otherwise as it was written.</summary>
internal sealed class CalendarLine
{
    private CalendarLine(string text, string name, IReadOnlyList<LineParameter> parameters, string value) =>
        (Text, Name, Parameters, Value) = (text, name, parameters, value);

    /// <summary>The whole line without its line end.</summary>
    public string Text { get; }

    /// <summary>In upper case.</summary>
    public string Name { get; }

    public IReadOnlyList<LineParameter> Parameters { get; }

    /// <summary>As written, with the escapes of its type.</summary>
    public string Value { get; }

    /// <summary>Null when it is no <c>name *(;parameter=value):value</c>, or holds what XML could not carry.</summary>
    public static CalendarLine? TryParse(string text)
    {
        var end = text.AsSpan().IndexOfAny(':', ';');
        if (end < 1 || !text.AsSpan(0, end).ContainsOnlyNameCharacters() || text.AsSpan().ContainsAnyForbidden())
        {
            return null;
        }

        var parameters = new List<LineParameter>();
        while (text[end] == ';')
        {
            var start = end + 1;
            end = EndOfParameter(text, start);
            if (end < 0 || !TryReadParameter(text[start..end], out var parameter))
            {
                return null;
            }

            parameters.Add(parameter);
        }

        return new(text, text[..text.AsSpan().IndexOfAny(':', ';')].ToUpperInvariant(), parameters, text[(end + 1)..]);
    }

    /// <summary>A line from its parts; parameters are quoted where they must be.</summary>
    /// <param name="value">With the escapes of its type.</param>
    /// <exception cref="ArgumentException">The parts make no single line.</exception>
    public static CalendarLine Of(string name, string value, params (string Name, string Value)[] parameters)
    {
        var written = string.Concat(parameters.Select(parameter => $";{parameter.Name}={Quoted(parameter.Value)}"));
        var line = TryParse($"{name}{written}:{value}");

        return line is not null && line.Value == value && line.Parameters.Count == parameters.Length
            ? line
            : throw new ArgumentException("This makes no content line.", nameof(value));
    }

    /// <summary>The value of a parameter, or null.</summary>
    /// <param name="name">In upper case.</param>
    public string? Parameter(string name) => Parameters.FirstOrDefault(one => one.Name == name)?.Value;

    public override string ToString() => Text;

    private static string Quoted(string value) => value.AsSpan().ContainsAny(':', ';', ',') ? $"\"{value}\"" : value;

    /// <summary>The semicolon or colon that ends it, outside of quotes; -1 when there is none.</summary>
    private static int EndOfParameter(string text, int start)
    {
        var isQuoted = false;
        for (var i = start; i < text.Length; i++)
        {
            switch (text[i])
            {
                case '"':
                    isQuoted = !isQuoted;
                    break;
                case ';' or ':' when !isQuoted:
                    return i;
            }
        }

        return -1;
    }

    private static bool TryReadParameter(string text, [NotNullWhen(true)] out LineParameter? parameter)
    {
        var equals = text.IndexOf('=', StringComparison.Ordinal);
        parameter = null;
        if (equals < 1 || !text.AsSpan(0, equals).ContainsOnlyNameCharacters())
        {
            return false;
        }

        var value = text[(equals + 1)..];
        var isOneQuoted = value.Length > 1 && value.IndexOf('"', 1) == value.Length - 1 && value[0] == '"';
        parameter = new(text[..equals].ToUpperInvariant(), isOneQuoted ? value[1..^1] : value);
        return true;
    }
}
