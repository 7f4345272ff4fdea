using Refit;

namespace Releasekit.Client.Ideas;

/// <summary>Thoughts for future releases.</summary>
public interface IIdeas
{
    /// <summary>Notes an idea.</summary>
    [Post("/v1/ideas")]
    Task<IApiResponse<Idea>> Create(
        [Body] IdeaValues idea, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Ideas in the order they were entered, filtered.</summary>
    [Get("/v1/ideas")]
    Task<IApiResponse<Page<Idea>>> List(
        [Query] IdeaFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>The same list as CSV, with the columns that an import takes.</summary>
    [Get("/v1/ideas.csv")]
    Task<IApiResponse<string>> Export([Query] IdeaFilter? filter = null, CancellationToken cancel = default);

    /// <summary>An idea; a removed one is not found here.</summary>
    [Get("/v1/ideas/{id}")]
    Task<IApiResponse<Idea>> Get(
        Guid id, [Header("If-None-Match")] string? ifNoneMatch = null, CancellationToken cancel = default);

    /// <summary>Changes an idea.</summary>
    /// <param name="change">A JSON Merge Patch: null empties a member, lists are replaced whole.</param>
    [Patch("/v1/ideas/{id}")]
    Task<IApiResponse<Idea>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Removes an idea; it can be restored for 30 days.</summary>
    [Delete("/v1/ideas/{id}")]
    Task<IApiResponse> Remove(Guid id, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Brings a removed idea back.</summary>
    [Post("/v1/ideas/{id}/restore")]
    Task<IApiResponse<Idea>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Ideas by worth for an hour of work, each with its reason.</summary>
    [Get("/v1/ideas/ranking")]
    Task<IApiResponse<Page<RankedIdea>>> Rank(
        string? series = null, int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>Makes an idea a release that begins when the idea was noted.</summary>
    [Post("/v1/ideas/{id}/promote")]
    Task<IApiResponse<Releases.Release>> Promote(
        Guid id, [Body] PromoteIdea promotion, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);
}
