namespace Releasekit.Domain.Statistics;

/// <summary>A slot of a series as it was promised, changes made in time already worked in.</summary>
/// <param name="Date">Its original local date, by which it is named.</param>
/// <param name="PromisedAt">When it was promised to be public.</param>
/// <param name="IsExcused">In a break, or given up in time: it counts for nothing and takes no publication.</param>
/// <param name="HeldBy">The release assigned to it, the only one it takes; null when nobody holds it.</param>
/// <param name="EarlyWindow">How long before its time an unassigned publication may be meant for it, included.</param>
/// <param name="LateWindow">How long after, included; also how long it may stay overdue. Not below tolerance.</param>
public sealed record PromisedSlot(
    LocalDate Date, Instant PromisedAt, bool IsExcused, Guid? HeldBy, Duration EarlyWindow, Duration LateWindow);

/// <summary>The first time a release was public.</summary>
/// <param name="Release">The release's id; of several publications of one release the first counts.</param>
/// <param name="At">When.</param>
/// <param name="Local">The same, on the wall clock of the series' zone.</param>
/// <param name="SlotDate">The slot the release holds; it takes no other, and is no extra. Null when unassigned.</param>
public sealed record Publication(Guid Release, Instant At, LocalDateTime Local, LocalDate? SlotDate);
