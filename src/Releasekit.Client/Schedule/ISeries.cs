using Refit;

namespace Releasekit.Client.Schedule;

/// <summary>Series, their cadence, breaks and slots.</summary>
public interface ISeries
{
    /// <summary>Opens a series.</summary>
    [Post("/v1/series")]
    Task<IApiResponse<Series>> Open(
        [Body] OpenSeries series, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>Every series, by id.</summary>
    [Get("/v1/series")]
    Task<IApiResponse<Page<Series>>> List(int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>One series.</summary>
    [Get("/v1/series/{series}")]
    Task<IApiResponse<Series>> Get(string series, CancellationToken cancel = default);

    /// <summary>Changes title, plan or settings; members that are null stay.</summary>
    [Patch("/v1/series/{series}")]
    Task<IApiResponse<Series>> Change(
        string series, [Body] SeriesChange change, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);

    /// <summary>Sets another rule from a date on.</summary>
    [Put("/v1/series/{series}/cadence")]
    Task<IApiResponse<CadenceChange>> SetCadence(
        string series, [Body] SetCadence cadence, bool? reassign = null, [Header("If-Match")] string? ifMatch = null,
        CancellationToken cancel = default);

    /// <summary>Plans a break; both ends are included.</summary>
    [Post("/v1/series/{series}/breaks")]
    Task<IApiResponse<Break>> PlanBreak(
        string series, [Body] PlanBreak pause, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>Cancels a break.</summary>
    [Delete("/v1/series/{series}/breaks/{id}")]
    Task<IApiResponse> CancelBreak(string series, Guid id, CancellationToken cancel = default);

    /// <summary>Ends the series.</summary>
    [Post("/v1/series/{series}/close")]
    Task<IApiResponse<CadenceChange>> Close(
        string series, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>The slots of a window, from included, to excluded.</summary>
    [Get("/v1/series/{series}/slots")]
    Task<IApiResponse<Page<Slot>>> Slots(
        string series, LocalDate? from = null, LocalDate? to = null, int? limit = null, string? cursor = null,
        CancellationToken cancel = default);

    /// <summary>Moves a slot, gives it up, gives it to a release or frees it.</summary>
    [Put("/v1/series/{series}/slots/{date}")]
    Task<IApiResponse<Slot>> ChangeSlot(
        string series, LocalDate date, [Body] SlotChange change, [Header("If-Match")] string? ifMatch = null,
        CancellationToken cancel = default);

    /// <summary>How the cadence was kept in a window, from included, to excluded, as of an instant.</summary>
    [Get("/v1/series/{series}/cadence")]
    Task<IApiResponse<Adherence>> Adherence(
        string series, LocalDate? from = null, LocalDate? to = null, Instant? at = null,
        CancellationToken cancel = default);
}
