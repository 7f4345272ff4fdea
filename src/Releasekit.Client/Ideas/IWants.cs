using Refit;

namespace Releasekit.Client.Ideas;

/// <summary>Things to buy one day.</summary>
public interface IWants
{
    /// <summary>Notes a want.</summary>
    [Post("/v1/wants")]
    Task<IApiResponse<Want>> Create(
        [Body] WantValues want, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Wants in the order they were entered, filtered.</summary>
    [Get("/v1/wants")]
    Task<IApiResponse<Page<Want>>> List(
        [Query] WantFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>The same list as CSV, with the columns that an import takes.</summary>
    [Get("/v1/wants.csv")]
    Task<IApiResponse<string>> Export([Query] WantFilter? filter = null, CancellationToken cancel = default);

    /// <summary>A want; a removed one is not found here.</summary>
    [Get("/v1/wants/{id}")]
    Task<IApiResponse<Want>> Get(
        Guid id, [Header("If-None-Match")] string? ifNoneMatch = null, CancellationToken cancel = default);

    /// <summary>Changes a want.</summary>
    /// <param name="change">A JSON Merge Patch: null empties a member, lists are replaced whole.</param>
    [Patch("/v1/wants/{id}")]
    Task<IApiResponse<Want>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Removes a want; it can be restored for 30 days.</summary>
    [Delete("/v1/wants/{id}")]
    Task<IApiResponse> Remove(Guid id, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Brings a removed want back.</summary>
    [Post("/v1/wants/{id}/restore")]
    Task<IApiResponse<Want>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);
}
