using Refit;

namespace Releasekit.Client.Publishers;

/// <summary>Publishers: the token's own, and for operators all of them.</summary>
public interface IPublishers
{
    /// <summary>The token's publisher.</summary>
    [Get("/v1/publisher")]
    Task<IApiResponse<Publisher>> Get(CancellationToken cancel = default);

    /// <summary>Changes it; members that are null stay.</summary>
    [Patch("/v1/publisher")]
    Task<IApiResponse<Publisher>> Change(
        [Body] PublisherChange change, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Opens another publisher (operator).</summary>
    [Post("/v1/publishers")]
    Task<IApiResponse<NewPublisher>> Open(
        [Body] OpenPublisher publisher, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>All publishers, by id (operator).</summary>
    [Get("/v1/publishers")]
    Task<IApiResponse<Page<Publisher>>> List(
        int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>Erases a publisher with everything it holds (operator).</summary>
    [Delete("/v1/publishers/{id}")]
    Task<IApiResponse> Erase(string id, CancellationToken cancel = default);
}

/// <summary>The tenant: one person or a small team.</summary>
/// <param name="Zone">IANA zone id.</param>
/// <param name="ProjectsAYear">How many projects are started in a calendar year at most.</param>
public sealed record Publisher(
    string Id, string Name, string Zone, IReadOnlyList<WorkingHours> WorkingWeek, IReadOnlyList<LocalDate> DaysOff,
    Instant OpenedAt, int ProjectsAYear, ReminderSettings Reminders);

/// <summary>When a publisher is reminded; null: as usual.</summary>
/// <param name="DueSoon">Before a stage must be done, elapsed.</param>
/// <param name="RemindAt">Local time of day for tasks and projects.</param>
public sealed record ReminderSettings(
    Duration? DueSoon = null, LocalTime? RemindAt = null, int? TaskDays = null, int? ImportantTaskDays = null);

/// <summary>A stretch of working time that comes every week, local time.</summary>
/// <param name="Day">monday to sunday.</param>
public sealed record WorkingHours(string Day, LocalTime From, LocalTime To);

/// <summary>What to change; null stays.</summary>
public sealed record PublisherChange(
    string? Name = null, string? Zone = null, IReadOnlyList<WorkingHours>? WorkingWeek = null,
    IReadOnlyList<LocalDate>? DaysOff = null, int? ProjectsAYear = null, ReminderSettings? Reminders = null);

/// <summary>A publisher to open.</summary>
public sealed record OpenPublisher(string Name, string? Id = null, string? Zone = null);

/// <summary>A publisher and its first token, shown this once.</summary>
public sealed record NewPublisher(string Id, string Token);
