namespace Releasekit.Client.Schedule;

/// <summary>One promised publication time.</summary>
/// <param name="Date">Its original local date, which names it.</param>
/// <param name="At">Where it stands in the calendar.</param>
/// <param name="PromisedAt">What was promised.</param>
/// <param name="LatenessHours">Negative when early; null when not published.</param>
public sealed record Slot(
    LocalDate Date,
    Instant At,
    Instant PromisedAt,
    SlotState State,
    Guid? Release,
    Instant? PublishedAt,
    double? LatenessHours,
    string? Reason);

/// <summary>What became of a slot.</summary>
public enum SlotState
{
    /// <summary>To come, nobody holds it.</summary>
    Open,

    /// <summary>To come, a release holds it.</summary>
    Held,

    /// <summary>In a break, or given up in time.</summary>
    Excused,

    /// <summary>Its time has come, nothing is published yet.</summary>
    Pending,

    /// <summary>Published in time.</summary>
    Met,

    /// <summary>Published after the tolerance.</summary>
    Late,

    /// <summary>Past the tolerance, may still come.</summary>
    Overdue,

    /// <summary>Nothing was published for it.</summary>
    Missed,
}

/// <summary>What shall become of a slot; null stays.</summary>
/// <param name="MoveTo">Local, in the slot's zone.</param>
public sealed record SlotChange(
    LocalDateTime? MoveTo = null, bool? GiveUp = null, string? Reason = null, Guid? Release = null, bool? Free = null);

/// <summary>
/// How a cadence was kept. Slots = due + pending + excused + future; due = onTime + late + overdue + missed.
/// </summary>
public sealed record Adherence(
    LocalDate From,
    LocalDate To,
    Instant At,
    int Slots,
    int Due,
    int OnTime,
    int Late,
    int Pending,
    int Overdue,
    int Missed,
    int Excused,
    int Future,
    int Extra,
    Proportion OnTimeRate,
    Lateness LatenessHours,
    int CurrentStreak,
    int LongestStreak,
    Gaps Gaps,
    Drift Drift);

/// <summary>A share with its 95 % interval; null without a population.</summary>
public sealed record Proportion(double? Value, double Low, double High, int N);

/// <summary>Lateness in hours, percentiles of type 1.</summary>
public sealed record Lateness(int N, double? P50, double? P85, double? P95, double? Min, double? Max);

/// <summary>Gaps between publications in days of the series' zone.</summary>
public sealed record Gaps(int N, double? MeanDays, double? SdDays, double? Cv, double? MedianDays, double? MadDays);

/// <summary>How lateness moves from slot to slot.</summary>
public sealed record Drift(double? HoursPerSlot, double? LeastSquaresHoursPerSlot, int N);
