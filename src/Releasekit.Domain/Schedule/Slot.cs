namespace Releasekit.Domain.Schedule;

/// <summary>One promised publication time of a series.</summary>
/// <param name="Date">Its original local date, which names it for ever.</param>
/// <param name="At">Where it stands in the calendar now, UTC.</param>
/// <param name="PromisedAt">What was promised, UTC: as <paramref name="At"/>
/// unless it was moved after its time.</param>
/// <param name="Zone">IANA zone of the rule it comes from.</param>
/// <param name="Excuse">Why nothing is owed for it; null when it is owed.</param>
/// <param name="EarlyWindow">How long before it a publication still counts for it, elapsed, inclusive.</param>
/// <param name="LateWindow">How long after it a publication still counts for it, elapsed, inclusive.</param>
/// <param name="Revision">How many decisions made it what it is; grows with each.</param>
/// <param name="ChangedAt">When the latest of them was recorded, UTC.</param>
public sealed record Slot(
    LocalDate Date,
    Instant At,
    Instant PromisedAt,
    string Zone,
    SlotExcuse? Excuse,
    Duration EarlyWindow,
    Duration LateWindow,
    int Revision,
    Instant ChangedAt)
{
    /// <summary>Where it stands while something is owed for it, UTC; null when it is excused.</summary>
    public Instant? OwedAt => Excuse is null ? At : null;

    /// <summary>
    /// Whether it was given up last, in time or not; only a give-up in time is an <see cref="Excuse"/>.
    /// </summary>
    public bool WasGivenUp { get; init; }
}

/// <summary>Why nothing is owed for a slot.</summary>
/// <param name="GivenUp">Whether it was given up; otherwise it lies in a break.</param>
/// <param name="Reason">In the publisher's words; null when none was given.</param>
public sealed record SlotExcuse(bool GivenUp, string? Reason);
