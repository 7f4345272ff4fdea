using System.Text.Json.Nodes;

namespace Releasekit.Server.Docs;

/// <summary>Says in words what kind of value a schema describes.</summary>
internal static class ContractWords
{
    public static string KindOf(JsonNode contract, JsonNode? schema)
    {
        var known = DocsPage.Resolved(contract, schema);

        if (known?["enum"]?.AsArray() is { } values)
        {
            return string.Join(", ", values.Select(value => value?.ToString() ?? "null"));
        }

        var types = TypesOf(known);

        if (types.Contains("array"))
        {
            return $"list of {KindOf(contract, known?["items"])}";
        }

        var kind = known?["format"]?.ToString() switch
        {
            "date-time" => "instant",
            "date-time-local" => "local date and time",
            "time-local" => "local time",
            "uuid" => "id",
            { } format => format,
            null => types.FirstOrDefault(type => type != "null") ?? "value",
        };

        return types.Contains("null") || schema?["oneOf"] is not null ? $"{kind} or null" : kind;
    }

    /// <summary>What a member is for, also when it stands beside "or null".</summary>
    public static string DescriptionOf(JsonNode? member) => (member?["description"]
        ?? member?["oneOf"]?.AsArray().Select(one => one?["description"]).FirstOrDefault(
            said => said is not null))?.ToString() ?? string.Empty;

    private static string[] TypesOf(JsonNode? schema) => schema?["type"] switch
    {
        JsonArray many => [.. many.Select(type => type!.ToString())],
        { } one => [one.ToString()],
        null => [],
    };
}
