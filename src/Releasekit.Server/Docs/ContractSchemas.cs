using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Releasekit.Domain;
using Releasekit.Server.Http;

namespace Releasekit.Server.Docs;

/// <summary>What a value looks like in JSON, where its C# type does not say it.</summary>
internal static class ContractSchemas
{
    private static readonly Dictionary<Type, string> Formats = new()
    {
        [typeof(Instant)] = "date-time",
        [typeof(InstantParameter)] = "date-time",
        [typeof(LocalDate)] = "date",
        [typeof(DateParameter)] = "date",
        [typeof(LocalTime)] = "time-local",
        [typeof(LocalDateTime)] = "date-time-local",
        [typeof(Duration)] = "duration",
    };

    /// <summary>The longest texts, by the member that holds them; others have the longest of all.</summary>
    private static readonly Dictionary<string, int> Longest = new()
    {
        ["title"] = Wording.LongestTitle,
        ["name"] = Wording.LongestTitle,
        ["what"] = Wording.LongestTitle,
        ["key"] = Wording.LongestKey,
        ["stagePlan"] = Wording.LongestKey,
        ["series"] = Wording.LongestKey,
        ["rrule"] = 512,
        ["zone"] = 64,
        ["url"] = 2_000,
    };

    public static Task Describe(OpenApiSchema schema, OpenApiSchemaTransformerContext context, CancellationToken cancel)
    {
        var type = context.JsonTypeInfo.Type;
        var value = Nullable.GetUnderlyingType(type) ?? type;

        if (Formats.TryGetValue(value, out var format))
        {
            var isNullable = value != type || schema.Type?.HasFlag(JsonSchemaType.Null) is true;
            schema.Type = JsonSchemaType.String | (isNullable ? JsonSchemaType.Null : 0);
            schema.Format = format;
            schema.Properties?.Clear();
            schema.Required?.Clear();
            schema.MaxLength = 64;
        }
        else if (value == typeof(string))
        {
            schema.MaxLength ??= Longest.GetValueOrDefault(
                context.JsonPropertyInfo?.Name ?? string.Empty, Wording.LongestNote);
        }

        if (schema.Type?.HasFlag(JsonSchemaType.Array) is true)
        {
            schema.MaxItems ??= 2_000;

            if (context.JsonTypeInfo.ElementType is { } element && Formats.TryGetValue(element, out var elementFormat))
            {
                schema.Items =
                    new OpenApiSchema { Type = JsonSchemaType.String, Format = elementFormat, MaxLength = 64 };
            }
        }

        if (Contract.Examples.TryGetValue(value.Name, out var example) && context.JsonPropertyInfo is null)
        {
            schema.Examples = [example.DeepClone()];
        }

        return Task.CompletedTask;
    }
}
