using Refit;

namespace Releasekit.Client.Work;

/// <summary>Fixed times in the diary.</summary>
public interface IAppointments
{
    /// <summary>Notes an appointment.</summary>
    [Post("/v1/appointments")]
    Task<IApiResponse<Appointment>> Create(
        [Body] AppointmentValues appointment, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Appointments in the order they were entered; with a window also when they happen in it.</summary>
    [Get("/v1/appointments")]
    Task<IApiResponse<Page<Appointment>>> List(
        [Query] AppointmentFilter? filter = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>The same list as CSV, with the columns that an import takes.</summary>
    [Get("/v1/appointments.csv")]
    Task<IApiResponse<string>> Export([Query] AppointmentFilter? filter = null, CancellationToken cancel = default);

    /// <summary>An appointment; a removed one is not found here.</summary>
    [Get("/v1/appointments/{id}")]
    Task<IApiResponse<Appointment>> Get(
        Guid id, [Header("If-None-Match")] string? ifNoneMatch = null, CancellationToken cancel = default);

    /// <summary>Changes an appointment.</summary>
    /// <param name="change">A JSON Merge Patch: null empties a member, lists are replaced whole.</param>
    [Patch("/v1/appointments/{id}")]
    Task<IApiResponse<Appointment>> Change(
        Guid id, [Body] Dictionary<string, object?> change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Removes an appointment; it can be restored for 30 days.</summary>
    [Delete("/v1/appointments/{id}")]
    Task<IApiResponse> Remove(Guid id, [Header("If-Match")] string? ifMatch, CancellationToken cancel = default);

    /// <summary>Brings a removed appointment back.</summary>
    [Post("/v1/appointments/{id}/restore")]
    Task<IApiResponse<Appointment>> Restore(
        Guid id, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);
}
