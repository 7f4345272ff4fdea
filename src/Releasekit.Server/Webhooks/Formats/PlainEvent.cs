using System.Text.Json;
using Releasekit.Server.Events;
using Releasekit.Server.Http;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// An event as Standard Webhooks 1.0.0 ("Payload structure") wants it: <c>type</c>, <c>timestamp</c>, <c>data</c>, and
/// <c>id</c> as in GET /v1/events, so that what is pushed and what is pulled is the same object.
/// </summary>
internal static class PlainEvent
{
    public const string MediaType = "application/json; charset=utf-8";

    public static MessageBody Write(EnvelopeBody told) =>
        new(JsonSerializer.SerializeToUtf8Bytes(ThinEvent.Of(told), ApiJson.Options), MediaType);
}
