namespace Releasekit.Client.Releases;

/// <summary>What has to start when, counted back from the slot of a release. All instants UTC.</summary>
/// <param name="SlotAt">Null without a slot.</param>
/// <param name="PublicationAt">When it was published, or will be if work begins now and never waits.</param>
/// <param name="AtRisk">Whether a stage up to the publication should have started by now and has not.</param>
/// <param name="CountedAt">The instant it was counted from.</param>
/// <param name="Stages">The open ones, in working order.</param>
public sealed record ReleaseSchedule(
    Guid Release,
    Instant? SlotAt,
    Instant? PublicationAt,
    bool AtRisk,
    Instant CountedAt,
    IReadOnlyList<ScheduledStage> Stages);

/// <summary>When an open stage can and must be worked on.</summary>
/// <param name="Effort">Working time; zero when nobody guessed, and then EffortUnknown.</param>
/// <param name="LatestStart">Null without a promise to count from, as is the latest finish.</param>
/// <param name="TotalFloat">Working time to spare before the promise breaks; negative: so much is missing.</param>
/// <param name="FreeFloat">Working time it can finish later without moving any other stage.</param>
public sealed record ScheduledStage(
    string Key,
    Duration Effort,
    bool EffortUnknown,
    Instant? EarliestStart,
    Instant? EarliestFinish,
    Instant? LatestStart,
    Instant? LatestFinish,
    Duration? TotalFloat,
    Duration? FreeFloat,
    bool Critical,
    bool AtRisk);
