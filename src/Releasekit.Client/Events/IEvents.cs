using System.Text.Json;
using Refit;

namespace Releasekit.Client.Events;

/// <summary>What happened, as it is told to others.</summary>
public interface IEvents
{
    /// <summary>Oldest first; ask again with the answer's Last to go on.</summary>
    /// <param name="type">Such as stage.overdue or slot.*.</param>
    [Get("/v1/events")]
    Task<IApiResponse<EventPage>> List(
        string? after = null, int? limit = null, string? type = null, CancellationToken cancel = default);
}

/// <summary>A part of the log.</summary>
/// <param name="Next">Null when there is no more now.</param>
/// <param name="Last">Goes on from here later.</param>
public sealed record EventPage(IReadOnlyList<Envelope> Items, string? Next, string Last);

/// <summary>A message.</summary>
/// <param name="Timestamp">When it was recorded.</param>
public sealed record Envelope(string Id, string Type, Instant Timestamp, JsonElement Data);
