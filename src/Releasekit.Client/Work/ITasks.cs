using Refit;

namespace Releasekit.Client.Work;

/// <summary>Things to do on a day, in a week or in a month.</summary>
public interface ITasks
{
    /// <summary>Notes a task.</summary>
    [Post("/v1/tasks")]
    Task<IApiResponse<PlannedTask>> Create(
        [Body] TaskValues task, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Tasks by the first day of their period, filtered.</summary>
    [Get("/v1/tasks")]
    Task<IApiResponse<Page<PlannedTask>>> List(
        [Query] TaskFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>The same list as CSV, with the columns that an import takes.</summary>
    [Get("/v1/tasks.csv")]
    Task<IApiResponse<string>> Export([Query] TaskFilter? filter = null, CancellationToken cancel = default);

    /// <summary>A task; a removed one is not found here.</summary>
    [Get("/v1/tasks/{id}")]
    Task<IApiResponse<PlannedTask>> Get(
        Guid id, [Header("If-None-Match")] string? ifNoneMatch = null, CancellationToken cancel = default);

    /// <summary>Changes a task.</summary>
    /// <param name="change">A JSON Merge Patch: null empties a member, lists are replaced whole.</param>
    [Patch("/v1/tasks/{id}")]
    Task<IApiResponse<PlannedTask>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Removes a task; it can be restored for 30 days.</summary>
    [Delete("/v1/tasks/{id}")]
    Task<IApiResponse> Remove(Guid id, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Brings a removed task back.</summary>
    [Post("/v1/tasks/{id}/restore")]
    Task<IApiResponse<PlannedTask>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Ticks a task; one that is done is left as it is.</summary>
    [Post("/v1/tasks/{id}/complete")]
    Task<IApiResponse<PlannedTask>> Complete(
        Guid id, [Body] CompleteTask completion, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Unticks a task.</summary>
    [Post("/v1/tasks/{id}/reopen")]
    Task<IApiResponse<PlannedTask>> Reopen(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Lets a task come again by a rule, from this one on.</summary>
    [Put("/v1/tasks/{id}/recurrence")]
    Task<IApiResponse<PlannedTask>> SetRecurrence(
        Guid id, [Body] SetRecurrence recurrence, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Lets a task not come again; open ones after it are removed.</summary>
    [Delete("/v1/tasks/{id}/recurrence")]
    Task<IApiResponse<PlannedTask>> EndRecurrence(
        Guid id, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);
}
