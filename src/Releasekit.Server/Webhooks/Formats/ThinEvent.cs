using System.Text.Json;
using System.Text.Json.Nodes;
using Releasekit.Server.Events;
using Releasekit.Server.Http;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// Keeps messages small: Standard Webhooks 1.0.0 ("Payload size") speaks of 20 kB. What would be larger loses its long
/// texts, names them in <c>omitted</c>, and says in <c>href</c> where to read them.
/// </summary>
internal static class ThinEvent
{
    /// <summary>So long a message may be.</summary>
    public const int MostBytes = 20_480;

    private const int LongestText = 500;

    /// <summary>What an event may take, so that either format stays below the limit.</summary>
    private const int MostBytesOfEvent = MostBytes - 1_024;

    /// <summary>The event itself where it is small enough.</summary>
    public static EnvelopeBody Of(EnvelopeBody told)
    {
        if (JsonSerializer.SerializeToUtf8Bytes(told, ApiJson.Options).Length <= MostBytesOfEvent)
        {
            return told;
        }

        var data = (JsonObject)told.Data.DeepClone();
        var omitted = data.Where(member => IsLongText(member.Value)).Select(member => member.Key).ToArray();

        foreach (var name in omitted)
        {
            data.Remove(name);
        }

        data["omitted"] = new JsonArray([.. omitted.Select(name => JsonValue.Create(name))]);
        data["href"] = EventPlace.Of(told).Subject;

        return told with { Data = data };
    }

    private static bool IsLongText(JsonNode? value) =>
        value is JsonValue text && text.TryGetValue<string>(out var written) && written.Length > LongestText;
}
