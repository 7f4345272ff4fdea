using Refit;

namespace Releasekit.Client.Releases;

/// <summary>Releases and their transitions.</summary>
public interface IReleases
{
    /// <summary>Plans a release.</summary>
    [Post("/v1/releases")]
    Task<IApiResponse<Release>> Plan(
        [Body] PlanRelease release, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Releases in the order they were entered, filtered.</summary>
    [Get("/v1/releases")]
    Task<IApiResponse<Page<Release>>> List(
        [Query] ReleaseFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>A release, or as of a past moment: known "then", or "now" (the default).</summary>
    [Get("/v1/releases/{id}")]
    Task<IApiResponse<Release>> Get(
        Guid id, Instant? at = null, string? known = null, [Header("If-None-Match")] string? ifNoneMatch = null,
        CancellationToken cancel = default);

    /// <summary>Changes title, slot or plan version.</summary>
    /// <param name="change">A JSON Merge Patch, such as <c>new { title = "…"
    /// }</c>; a null slot takes it off its slot.</param>
    [Patch("/v1/releases/{id}")]
    Task<IApiResponse<Release>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Drops a release.</summary>
    [Post("/v1/releases/{id}/drop")]
    Task<IApiResponse<Release>> Drop(
        Guid id, [Body] DropRelease drop, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Restores a dropped release.</summary>
    [Post("/v1/releases/{id}/restore")]
    Task<IApiResponse<Release>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Everything that was recorded of a release.</summary>
    [Get("/v1/releases/{id}/history")]
    Task<IApiResponse<Page<HistoryEntry>>> History(
        Guid id, int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>What has to start when, counted back from its slot.</summary>
    [Get("/v1/releases/{id}/schedule")]
    Task<IApiResponse<ReleaseSchedule>> Schedule(Guid id, CancellationToken cancel = default);

    /// <summary>Records a transition of a stage.</summary>
    [Post("/v1/releases/{id}/transitions")]
    Task<IApiResponse<Release>> Record(
        Guid id, [Body] Transition transition, [Header("Idempotency-Key")] string? key = null,
        [Header("If-Match")] string? ifMatch = null, CancellationToken cancel = default);

    /// <summary>Records many transitions, all or nothing.</summary>
    [Post("/v1/transitions")]
    Task<IApiResponse<RecordedTransitions>> RecordMany(
        [Body] ManyTransitions transitions, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Corrects when a transition happened.</summary>
    [Patch("/v1/releases/{id}/transitions/{sequence}")]
    Task<IApiResponse<Release>> Amend(
        Guid id, long sequence, [Body] TransitionChange change, [Header("If-Match")] string? ifMatch = null,
        CancellationToken cancel = default);

    /// <summary>Ticks or unticks a checklist item, named by its key or text.</summary>
    [Put("/v1/releases/{id}/stages/{stage}/checklist/{item}")]
    Task<IApiResponse<Release>> Tick(
        Guid id, string stage, string item, [Body] Tick tick, CancellationToken cancel = default);
}
