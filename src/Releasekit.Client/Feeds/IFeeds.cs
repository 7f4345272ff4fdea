using Refit;

namespace Releasekit.Client.Feeds;

/// <summary>Calendar feeds.</summary>
public interface IFeeds
{
    /// <summary>Makes a feed; its secret address is shown this once.</summary>
    [Post("/v1/feeds")]
    Task<IApiResponse<NewFeed>> Create(
        [Body] CreateFeed feed, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>The feeds, without their addresses.</summary>
    [Get("/v1/feeds")]
    Task<IApiResponse<Page<Feed>>> List(int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>Revokes a feed at once.</summary>
    [Delete("/v1/feeds/{id}")]
    Task<IApiResponse> Revoke(Guid id, CancellationToken cancel = default);
}

/// <summary>A feed to make.</summary>
/// <param name="Series">Ids; null for all.</param>
/// <param name="Stages">event, todo or none.</param>
/// <param name="Privacy">full or busy.</param>
public sealed record CreateFeed(
    string Name, IReadOnlyList<string>? Series = null, string? Stages = null, string? Privacy = null);

/// <summary>A feed that was made, with its secret address.</summary>
public sealed record NewFeed(
    Guid Id, Uri Url, string Name, IReadOnlyList<string> Series, string Stages, string Privacy);

/// <summary>A feed without its address.</summary>
public sealed record Feed(
    Guid Id, string Name, IReadOnlyList<string> Series, string Stages, string Privacy, Instant CreatedAt,
    Instant? LastFetchedAt);
