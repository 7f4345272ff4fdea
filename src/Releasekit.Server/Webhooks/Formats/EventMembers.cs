using System.Text.Json;
using System.Text.Json.Nodes;
using Fluid.Values;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>Members of an event as a template sees them; notes which it asks for in vain.</summary>
internal sealed class EventMembers(JsonObject members, string path, Action<string> missing) : IFluidIndexable
{
    public int Count => members.Count;

    public IEnumerable<string> Keys => members.Select(member => member.Key);

    /// <param name="path">How the template calls it, such as <c>data.release</c>.</param>
    public static FluidValue Of(JsonNode? node, string path, Action<string> missing) => node switch
    {
        JsonObject members => new DictionaryValue(new EventMembers(members, path, missing)),
        JsonArray items => new ArrayValue([.. items.Select((item, i) => Of(item, $"{path}[{i}]", missing))]),
        JsonValue value => Of(value),
        _ => NilValue.Instance,
    };

    public bool TryGetValue(string name, out FluidValue value)
    {
        var isThere = members.TryGetPropertyValue(name, out var node);

        if (!isThere)
        {
            missing($"{path}.{name}");
        }

        value = Of(node, $"{path}.{name}", missing);
        return isThere;
    }

    private static FluidValue Of(JsonValue value) => value.GetValueKind() switch
    {
        JsonValueKind.String => new StringValue(value.GetValue<string>()),
        JsonValueKind.Number => NumberValue.Create(decimal.Parse(
            value.ToJsonString(), System.Globalization.NumberStyles.Float,
            System.Globalization.CultureInfo.InvariantCulture)),
        JsonValueKind.True => BooleanValue.True,
        JsonValueKind.False => BooleanValue.False,
        _ => NilValue.Instance,
    };
}
