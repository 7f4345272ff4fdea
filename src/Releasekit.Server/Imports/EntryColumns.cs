using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>
/// The columns that a kind of entry has in a spreadsheet: the members of what can be written of it, in snake_case;
/// those of a member with members of its own after its name (<c>price_amount</c>); lists in one field, parted by
/// semicolons. A new member is a column by itself.
/// </summary>
internal sealed class EntryColumns<TValues>
    where TValues : class
{
    public static readonly EntryColumns<TValues> Only = new();

    private EntryColumns() => All = [.. ColumnsOf(typeof(TValues), [])];

    /// <summary>In the order of the members.</summary>
    public IReadOnlyList<EntryColumn> All { get; }

    /// <summary>The fields of an entry, in the order of <see cref="All"/>; empty where there is nothing.</summary>
    public string[] Write(TValues values)
    {
        var json = JsonSerializer.SerializeToNode(values, ApiJson.Options)!;
        return [.. All.Select(column => column.Write(json))];
    }

    /// <summary>The column that a problem's pointer means; null for none in particular.</summary>
    public EntryColumn? At(string pointer) => All.FirstOrDefault(column => column.Pointer == pointer)
        ?? All.FirstOrDefault(column => column.Pointer.StartsWith($"{pointer}/", StringComparison.Ordinal));

    private static IEnumerable<EntryColumn> ColumnsOf(Type type, string[] path)
    {
        foreach (var parameter in type.GetConstructors()[0].GetParameters())
        {
            string[] member = [.. path, JsonNamingPolicy.CamelCase.ConvertName(parameter.Name!)];
            var value = Nullable.GetUnderlyingType(parameter.ParameterType) ?? parameter.ParameterType;
            var hasMembers = value.IsClass && value.Namespace!.StartsWith(nameof(Releasekit), StringComparison.Ordinal);

            if (hasMembers)
            {
                foreach (var inner in ColumnsOf(value, member))
                {
                    yield return inner with { IsNeeded = false };
                }
            }
            else
            {
                yield return new EntryColumn(member, value, IsNeeded: !parameter.HasDefaultValue);
            }
        }
    }
}

/// <summary>One column.</summary>
/// <param name="Path">Where its value stands in the JSON of an entry.</param>
/// <param name="IsNeeded">Whether a row without it is no entry.</param>
internal sealed record EntryColumn(string[] Path, Type Type, bool IsNeeded)
{
    private const char Between = ';';

    /// <summary>No comma: 1,50 is one and a half in half of the world.</summary>
    private const NumberStyles Plain = NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign;

    /// <summary>Such as <c>bought_on</c>.</summary>
    public string Name { get; } = string.Join('_', Path.Select(JsonNamingPolicy.SnakeCaseLower.ConvertName));

    /// <summary>The JSON pointer of its member.</summary>
    public string Pointer { get; } = $"/{string.Join('/', Path)}";

    private Type? Element => Type.IsGenericType && Type.GetGenericTypeDefinition() == typeof(IReadOnlyList<>)
        ? Type.GetGenericArguments()[0]
        : null;

    public string Write(JsonNode json)
    {
        var value = Path.Aggregate((JsonNode?)json, (node, member) => node?[member]);

        return value switch
        {
            null => string.Empty,
            JsonArray list => string.Join(Between, list.Select(item => Escaped(item!.GetValue<string>()))),
            _ when value.GetValueKind() is JsonValueKind.String => value.GetValue<string>(),
            _ => value.ToJsonString(),
        };
    }

    /// <summary>Puts a field into the JSON of an entry; what is wrong with it, null when nothing is.</summary>
    public string? Read(string field, JsonObject json)
    {
        JsonNode value = Element is null
            ? Value(field, Type)
            : new JsonArray([.. Parted(field).Select(item => Value(item, Element))]);

        try
        {
            value.Deserialize(Type, ApiJson.Options);
        }
        catch (JsonException e)
        {
            return MalformedJson.FormatFault(e) ?? $"'{ColumnFaults.Shown(field)}' is not {Right()}.";
        }

        var target = json;

        foreach (var member in Path.SkipLast(1))
        {
            target = (JsonObject)(target[member] ??= new JsonObject());
        }

        target[Path[^1]] = value;
        return null;
    }

    /// <summary>A backslash keeps a semicolon within an item, as in RFC 5545, 3.3.11.</summary>
    private static string Escaped(string item) => item
        .Replace(@"\", @"\\", StringComparison.Ordinal)
        .Replace(";", @"\;", StringComparison.Ordinal);

    private static IEnumerable<string> Parted(string field)
    {
        var items = new List<StringBuilder> { new() };

        for (var i = 0; i < field.Length; i++)
        {
            if (field[i] == Between)
            {
                items.Add(new());
            }
            else
            {
                i += field[i] == '\\' && i + 1 < field.Length ? 1 : 0;
                items[^1].Append(field[i]);
            }
        }

        return items.Select(item => item.ToString().Trim()).Where(item => item.Length > 0);
    }

    /// <summary>A text that is no number stays a text, and is refused as one.</summary>
    private static JsonValue Value(string field, Type type) => type switch
    {
        _ when type == typeof(bool) && bool.TryParse(field, out var truth) => JsonValue.Create(truth),
        _ when type == typeof(int)
            && int.TryParse(field, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number) =>
            JsonValue.Create(number),
        _ when type == typeof(decimal)
            && decimal.TryParse(field, Plain, CultureInfo.InvariantCulture, out var amount) =>
            JsonValue.Create(amount),
        _ => JsonValue.Create(field),
    };

    private string Right() => Type switch
    {
        _ when Type == typeof(bool) => "true or false",
        _ when Type == typeof(int) => "a whole number",
        _ when Type == typeof(decimal) => "a number such as 189.50",
        _ when Type.IsEnum =>
            string.Join(" or ", Enum.GetNames(Type).Select(JsonNamingPolicy.SnakeCaseLower.ConvertName)),
        _ when Type == typeof(LocalDate) || Element == typeof(LocalDate) => "a date such as 2026-03-05",
        _ => "what belongs here",
    };
}
