using System.Text.Json.Nodes;
using Releasekit.Server.Events;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>Where an event belongs, as paths on this service.</summary>
/// <param name="Stream">The history that its sequence counts in.</param>
/// <param name="Subject">What it is about.</param>
internal sealed record EventPlace(string Stream, string Subject)
{
    /// <summary>Reminders, and what concerns no release or project, are told in the publisher's own history.</summary>
    private const string Publisher = "/v1/publisher";

    public static EventPlace Of(EnvelopeBody told)
    {
        if (told.Data["subject"] is JsonValue subject)
        {
            return new(Publisher, subject.GetValue<string>());
        }

        var place = IdOf(told.Data, "release") is { } release ? $"/v1/releases/{release}"
            : IdOf(told.Data, "project") is { } project ? $"/v1/projects/{project}"
            : Publisher;

        return new(place, place);
    }

    private static string? IdOf(JsonObject data, string what) => (data[what] as JsonObject)?["id"]?.GetValue<string>();
}
