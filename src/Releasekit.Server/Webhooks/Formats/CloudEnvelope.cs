using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Releasekit.Server.Events;
using Releasekit.Server.Http;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// An event as CloudEvents 1.0 in structured mode (JSON event format, HTTP protocol binding), with the extension
/// <c>sequence</c>: a string that sorts, counted per <c>source</c>, which is why the source names the history.
/// </summary>
internal static class CloudEnvelope
{
    public const string MediaType = "application/cloudevents+json; charset=utf-8";

    /// <summary>Before our own types, as types should begin with a reversed domain name.</summary>
    public const string TypePrefix = "org.releasekit.";

    /// <param name="service">Where this service answers, such as <c>https://releases.example.com</c>.</param>
    public static MessageBody Write(EnvelopeBody told, Uri service)
    {
        var thin = ThinEvent.Of(told);
        var place = EventPlace.Of(told);
        var cloudEvent = new JsonObject
        {
            ["specversion"] = "1.0",
            ["id"] = told.Id,
            ["source"] = service.GetLeftPart(UriPartial.Path).TrimEnd('/') + place.Stream,
            ["type"] = TypePrefix + told.Type,
            ["subject"] = place.Subject,
            ["time"] = JsonSerializer.SerializeToNode(told.Timestamp, ApiJson.Options),
            ["datacontenttype"] = "application/json",
            ["data"] = thin.Data.DeepClone(),
        };

        if (told.Data["sequence"] is { } sequence)
        {
            cloudEvent["sequence"] = sequence.GetValue<long>().ToString("D19", CultureInfo.InvariantCulture);
        }

        return new(JsonSerializer.SerializeToUtf8Bytes(cloudEvent, ApiJson.Options), MediaType);
    }
}
