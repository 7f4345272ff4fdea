using Refit;
using Releasekit.Client.Releases;

namespace Releasekit.Client.Projects;

/// <summary>Projects, their steps, and how far they have come.</summary>
public interface IProjects
{
    /// <summary>Proposes a project as a candidate.</summary>
    [Post("/v1/projects")]
    Task<IApiResponse<Project>> Propose(
        [Body] ProposeProject project, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Projects in the order they were entered, or by rank; filtered.</summary>
    [Get("/v1/projects")]
    Task<IApiResponse<Page<Project>>> List(
        [Query] ProjectFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>A project.</summary>
    [Get("/v1/projects/{id}")]
    Task<IApiResponse<Project>> Get(
        Guid id, [Header("If-None-Match")] string? ifNoneMatch = null, CancellationToken cancel = default);

    /// <summary>Changes title, rank or note; once started, goal or finishBy with finishByReason.</summary>
    /// <param name="change">A JSON Merge Patch.</param>
    [Patch("/v1/projects/{id}")]
    Task<IApiResponse<Project>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Starts a candidate.</summary>
    [Post("/v1/projects/{id}/start")]
    Task<IApiResponse<Project>> Start(
        Guid id, [Body] StartProject start, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Finishes a started project.</summary>
    [Post("/v1/projects/{id}/finish")]
    Task<IApiResponse<Project>> Finish(
        Guid id, [Body] FinishProject finish, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Takes a wrong finish back.</summary>
    [Post("/v1/projects/{id}/reopen")]
    Task<IApiResponse<Project>> Reopen(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Gives a project up.</summary>
    [Post("/v1/projects/{id}/drop")]
    Task<IApiResponse<Project>> Drop(
        Guid id, [Body] DropProject drop, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Makes a dropped project what it was before.</summary>
    [Post("/v1/projects/{id}/restore")]
    Task<IApiResponse<Project>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Plans a step; the project is answered.</summary>
    [Post("/v1/projects/{id}/steps")]
    Task<IApiResponse<Project>> PlanStep(
        Guid id, [Body] PlanStep step, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Changes what, when or note of a step, or whether it is done.</summary>
    /// <param name="change">A JSON Merge Patch.</param>
    /// <param name="ifMatch">The ETag of the project.</param>
    [Patch("/v1/projects/{id}/steps/{step}")]
    Task<IApiResponse<Project>> ChangeStep(
        Guid id, string step, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Takes a step out.</summary>
    /// <param name="ifMatch">The ETag of the project.</param>
    [Delete("/v1/projects/{id}/steps/{step}")]
    Task<IApiResponse<Project>> RemoveStep(
        Guid id, string step, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Everything that was recorded of a project.</summary>
    [Get("/v1/projects/{id}/history")]
    Task<IApiResponse<Page<HistoryEntry>>> History(
        Guid id, int? limit = null, string? cursor = null, CancellationToken cancel = default);
}
