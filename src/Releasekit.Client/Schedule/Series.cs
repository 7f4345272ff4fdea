namespace Releasekit.Client.Schedule;

/// <summary>A stream of releases with one cadence.</summary>
/// <param name="PastCadences">Those that were set before it, first to latest.</param>
/// <param name="OnTimeTolerance">Null: the default.</param>
public sealed record Series(
    string Id,
    string Title,
    string StagePlan,
    Cadence Cadence,
    IReadOnlyList<Cadence> PastCadences,
    Duration? OnTimeTolerance,
    Duration? EarlyWindow,
    Duration? LateWindow,
    double RiskThreshold,
    IReadOnlyList<Break> Breaks,
    Instant OpenedAt,
    Instant? ClosedAt);

/// <summary>When a series promises to publish, and the first date this holds for.</summary>
public sealed record Cadence(
    string Rrule, LocalTime Time, string Zone, LocalDate? Start = null, LocalDate? From = null);

/// <summary>A series to open.</summary>
public sealed record OpenSeries(
    string Id,
    string Title,
    string StagePlan,
    Cadence Cadence,
    Duration? OnTimeTolerance = null,
    Duration? EarlyWindow = null,
    Duration? LateWindow = null,
    double? RiskThreshold = null);

/// <summary>What to change of a series; null stays.</summary>
public sealed record SeriesChange(
    string? Title = null,
    string? StagePlan = null,
    Duration? OnTimeTolerance = null,
    Duration? EarlyWindow = null,
    Duration? LateWindow = null,
    double? RiskThreshold = null);

/// <summary>A rule and the first local date it holds for.</summary>
public sealed record SetCadence(
    string Rrule, LocalTime Time, LocalDate From, string? Zone = null, LocalDate? Start = null);

/// <summary>A series after its slots changed, and the releases whose slots vanished.</summary>
public sealed record CadenceChange(
    Series Series, IReadOnlyList<MovedRelease> Unassigned, IReadOnlyList<MovedRelease> Reassigned);

/// <summary>A release whose slot vanished.</summary>
/// <param name="Slot">The slot it has now; null for none.</param>
public sealed record MovedRelease(Guid Id, string Title, LocalDate Was, LocalDate? Slot);

/// <summary>A break to plan; both ends are included.</summary>
public sealed record PlanBreak(LocalDate From, LocalDate To, string? Reason = null);

/// <summary>A planned pause; both ends are included.</summary>
public sealed record Break(Guid Id, LocalDate From, LocalDate To, string? Reason, Instant PlannedAt);
