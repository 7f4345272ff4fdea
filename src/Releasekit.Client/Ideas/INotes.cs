using Refit;

namespace Releasekit.Client.Ideas;

/// <summary>Free text to find again.</summary>
public interface INotes
{
    /// <summary>Notes a note.</summary>
    [Post("/v1/notes")]
    Task<IApiResponse<Note>> Create(
        [Body] NoteValues note, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Notes in the order they were entered, filtered.</summary>
    [Get("/v1/notes")]
    Task<IApiResponse<Page<Note>>> List(
        [Query] NoteFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>The same list as CSV, with the columns that an import takes.</summary>
    [Get("/v1/notes.csv")]
    Task<IApiResponse<string>> Export([Query] NoteFilter? filter = null, CancellationToken cancel = default);

    /// <summary>A note; a removed one is not found here.</summary>
    [Get("/v1/notes/{id}")]
    Task<IApiResponse<Note>> Get(
        Guid id, [Header("If-None-Match")] string? ifNoneMatch = null, CancellationToken cancel = default);

    /// <summary>Changes a note.</summary>
    /// <param name="change">A JSON Merge Patch: null empties a member, lists are replaced whole.</param>
    [Patch("/v1/notes/{id}")]
    Task<IApiResponse<Note>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Removes a note; it can be restored for 30 days.</summary>
    [Delete("/v1/notes/{id}")]
    Task<IApiResponse> Remove(Guid id, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Brings a removed note back.</summary>
    [Post("/v1/notes/{id}/restore")]
    Task<IApiResponse<Note>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);
}
