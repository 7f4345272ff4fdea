using System.Text.Json;
using System.Text.RegularExpressions;

namespace Releasekit.Server.Http;

/// <summary>Words what is wrong with a JSON body, by member, without showing types of ours.</summary>
internal static partial class MalformedJson
{
    public static Problem Problem(JsonException json)
    {
        var member = PointerOf(json.Path);
        var detail = DetailOf(json, member);

        return member.Length == 0
            ? Problems.Of("malformed", detail)
            : Problems.Of("malformed", detail, new ProblemError(member, detail));
    }

    private static string DetailOf(JsonException json, string member)
    {
        if (Unmapped().Match(json.Message) is { Success: true } unmapped)
        {
            return $"There is no member '{unmapped.Groups["name"].Value}' here; check its spelling (nothing was "
                + "stored).";
        }

        if (Missing().Match(json.Message) is { Success: true } missing)
        {
            return $"Members that are needed and missing: "
                + $"{missing.Groups["names"].Value.Replace("'", string.Empty, StringComparison.Ordinal)}.";
        }

        if (json.Message.Contains("uplicate", StringComparison.Ordinal))
        {
            return "A member stands twice; each may stand once.";
        }

        if (FormatFault(json) is { } format)
        {
            return format;
        }

        return member.Length == 0
            ? $"The body is no JSON that can be read (line {json.LineNumber + 1}, byte {json.BytePositionInLine})."
            : $"The value at {member} is of the wrong kind, or null where a value is needed{RightKind(json.Message)}.";
    }

    /// <summary>What kind would be right, read from the type that the library names.</summary>
    private static string RightKind(string message) => message switch
    {
        _ when message.Contains("List`1", StringComparison.Ordinal) => ": it takes a list in [ ]",
        _ when message.Contains("System.Int", StringComparison.Ordinal) => ": it takes a whole number",
        _ when message.Contains("System.Decimal", StringComparison.Ordinal)
            || message.Contains("System.Double", StringComparison.Ordinal) => ": it takes a number",
        _ when message.Contains("System.Boolean", StringComparison.Ordinal) => ": it takes true or false",
        _ when message.Contains("System.String", StringComparison.Ordinal)
            || message.Contains("NodaTime.", StringComparison.Ordinal) => ": it takes a text in quotation marks",
        _ => string.Empty,
    };

    /// <summary>What a value should have looked like, where its format was at fault; else null.</summary>
    public static string? FormatFault(JsonException json)
    {
        for (var inner = json.InnerException; inner is not null; inner = inner.InnerException)
        {
            if (inner is FormatException or NodaTime.Text.UnparsableValueException)
            {
                return inner.Message;
            }
        }

        return null;
    }

    /// <summary><c>$.stages[0].key</c> becomes <c>/stages/0/key</c>.</summary>
    private static string PointerOf(string? path) => path is null or "$"
        ? string.Empty
        : Index().Replace(path[1..].Replace('.', '/'), "/$1");

    [GeneratedRegex(@"\[(\d+)\]")]
    private static partial Regex Index();

    [GeneratedRegex("The JSON property '(?<name>[^']*)' could not be mapped")]
    private static partial Regex Unmapped();

    [GeneratedRegex("missing required properties including: (?<names>.+)\\.$")]
    private static partial Regex Missing();
}
