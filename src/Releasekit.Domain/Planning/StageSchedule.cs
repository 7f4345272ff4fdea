namespace Releasekit.Domain.Planning;

/// <summary>When an open stage can and must be worked on. All instants UTC.</summary>
/// <param name="Effort">Working time it is reckoned with; zero when nobody guessed.</param>
/// <param name="EffortUnknown">
/// Whether nobody guessed: then all before it is told too late, by as much as it takes.
/// </param>
/// <param name="IsStarted">
/// Begun; what is left of it is taken to be its whole effort, as nobody says how much is.
/// </param>
/// <param name="EarliestStart">
/// From now on, at the next working instant; null when there is no working time for years.
/// </param>
/// <param name="EarliestFinish">When its effort is done then; null as before.</param>
/// <param name="LatestStart">
/// The last instant at which everything can still be met; null without a slot to count from, or when no working time
/// before it suffices.
/// </param>
/// <param name="LatestFinish">The end of the last working time it may use; null as before.</param>
/// <param name="TotalFloat">
/// Working time between earliest and latest start; negative: so much is missing; null without a slot or within reach.
/// </param>
/// <param name="FreeFloat">Working time it can finish later without moving anything else; null as before.</param>
/// <param name="IsCritical">Whether no other stage of its kind (up to publication, or after it) has less float.</param>
/// <param name="IsAtRisk">Whether its latest start has passed and it is not started.</param>
public sealed record StageSchedule(
    string Key,
    Duration Effort,
    bool EffortUnknown,
    bool IsStarted,
    Instant? EarliestStart,
    Instant? EarliestFinish,
    Instant? LatestStart,
    Instant? LatestFinish,
    Duration? TotalFloat,
    Duration? FreeFloat,
    bool IsCritical,
    bool IsAtRisk);
