using Refit;

namespace Releasekit.Client.Planning;

/// <summary>Whether the open work fits.</summary>
public interface IPlanning
{
    /// <summary>All open work laid into the working hours that are left.</summary>
    /// <param name="from">Local date of the first due that is shown; counted is always everything.</param>
    /// <param name="to">Local date, excluded.</param>
    /// <param name="without">What if that release were dropped?</param>
    /// <param name="hours">What if a week held so many working hours, 0 to 168?</param>
    [Get("/v1/capacity")]
    Task<IApiResponse<Capacity>> Capacity(
        LocalDate? from = null, LocalDate? to = null, Guid? without = null, double? hours = null,
        CancellationToken cancel = default);
}

/// <summary>Whether the open work fits into the working hours. All instants UTC.</summary>
/// <param name="Shortfall">The largest number of working hours too few for anything; zero when all fits.</param>
/// <param name="FirstOverflowOn">
/// The local date by whose end the work due by then no longer fits; null when all fits.
/// </param>
/// <param name="Remedies">Releases of which any single one, if dropped, made all the rest fit.</param>
public sealed record Capacity(
    Instant CountedAt,
    double HoursAWeek,
    bool Fits,
    Duration Shortfall,
    LocalDate? FirstOverflowOn,
    IReadOnlyList<Remedy> Remedies,
    IReadOnlyList<ReleaseOutlook> Releases,
    IReadOnlyList<LaidStage> Stages,
    IReadOnlyList<LaidTask> Tasks,
    IReadOnlyList<LaidStep> Steps);

/// <summary>A release whose dropping would make the rest fit.</summary>
public sealed record Remedy(Guid Release, string Title);

/// <summary>Whether a release makes its slot.</summary>
/// <param name="EffortUnknown">Whether a stage of it has no effort: then it is told too hopefully.</param>
public sealed record ReleaseOutlook(
    Guid Release, string Title, Instant SlotAt, Instant? ReadyAt, bool Met, Duration Shortfall, bool EffortUnknown);

/// <summary>An open stage in the hours that are left.</summary>
/// <param name="Effort">Null when nobody guessed; then it is counted as taking no time.</param>
public sealed record LaidStage(
    Guid Release, string Stage, Duration? Effort, Instant? DueAt, Instant? StartsAt, Instant? FinishesAt,
    Duration Shortfall);

/// <summary>An open task in the hours that are left.</summary>
public sealed record LaidTask(
    Guid Task, string Title, Duration Effort, Instant DueAt, Instant? StartsAt, Instant? FinishesAt, bool Met,
    Duration Shortfall);

/// <summary>An open step of a started project in the hours that are left.</summary>
public sealed record LaidStep(
    Guid Project, string Title, string Step, string What, Duration Effort, Instant DueAt, Instant? StartsAt,
    Instant? FinishesAt, bool Met, Duration Shortfall);
