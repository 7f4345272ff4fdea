namespace Releasekit.Domain.Statistics;

/// <summary>
/// How a series kept its cadence in a window. Slots = Due + Pending + Excused + Future. Figures are not rounded; one
/// that cannot be computed is null.
/// </summary>
/// <param name="Slots">All slots whose date lies in the window.</param>
/// <param name="Due">Those that count: OnTime + Late + Overdue + Missed.</param>
/// <param name="OnTime">Published early, or within the tolerance.</param>
/// <param name="Late">Published after the tolerance.</param>
/// <param name="Pending">Within the tolerance, nothing published yet.</param>
/// <param name="Overdue">Past the tolerance, may still come; counts against the rate, as it cannot be on time.</param>
/// <param name="Missed">Nothing published.</param>
/// <param name="Excused">In a break, or given up in time, past or to come.</param>
/// <param name="Future">Slots whose time is to come, also when already published.</param>
/// <param name="Extra">Publications without a slot whose local date lies in the window.</param>
/// <param name="OnTimeRate">OnTime of Due, 0 to 1, with its interval.</param>
/// <param name="LatenessHours">Of the due slots that were published.</param>
/// <param name="CurrentStreak">How many due slots were met without a break up to the last due one.</param>
/// <param name="LongestStreak">The longest run of met slots among the due ones.</param>
/// <param name="Gaps">Between publications whose local dates lie in the window, slot or extra.</param>
/// <param name="Drift">Of the due slots that were published; the index counts slots that are not excused.</param>
public sealed record AdherenceFigures(
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
    ProportionEstimate OnTimeRate,
    LatenessFigures LatenessHours,
    int CurrentStreak,
    int LongestStreak,
    GapFigures Gaps,
    DriftFigures Drift);
