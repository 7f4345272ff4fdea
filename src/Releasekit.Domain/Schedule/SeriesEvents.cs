namespace Releasekit.Domain.Schedule;

/// <summary>What can happen to a series. Kept for good: a field may be added with a default, never renamed.</summary>
public abstract record SeriesEvent
{
    private protected SeriesEvent(Instant recordedAt) => RecordedAt = recordedAt;

    /// <summary>When it was decided and recorded, UTC: what counts for "before the slot's time".</summary>
    public Instant RecordedAt { get; init; }
}

/// <summary>A series was opened.</summary>
/// <param name="Slug">Chosen by the publisher, unique among its series.</param>
/// <param name="StagePlan">The plan its releases follow unless they say otherwise.</param>
public sealed record SeriesOpened(
    Guid Series, string Slug, string Title, string StagePlan, SeriesSettings Settings, Instant RecordedAt)
    : SeriesEvent(RecordedAt);

/// <summary>Its title, stage plan or settings changed.</summary>
public sealed record SeriesAmended(string Title, string StagePlan, SeriesSettings Settings, Instant RecordedAt)
    : SeriesEvent(RecordedAt);

/// <summary>
/// From a local date on, the series promises to publish by this rule; before it, what held then still holds.
/// </summary>
/// <param name="From">The first local date of the rule's reign.</param>
public sealed record CadenceSet(CadenceTerms Terms, LocalDate From, Instant RecordedAt) : SeriesEvent(RecordedAt);

/// <summary>A pause was planned; both ends are included.</summary>
public sealed record BreakPlanned(Guid Break, LocalDate From, LocalDate To, string? Reason, Instant RecordedAt)
    : SeriesEvent(RecordedAt);

/// <summary>A planned pause was called off; slots in it whose time had not come are promised again.</summary>
public sealed record BreakCancelled(Guid Break, Instant RecordedAt) : SeriesEvent(RecordedAt);

/// <summary>A slot was moved to another local time.</summary>
/// <param name="Slot">Its original local date, which keeps naming it.</param>
/// <param name="To">Local time in the zone of the slot.</param>
public sealed record SlotMoved(LocalDate Slot, LocalDateTime To, Instant RecordedAt) : SeriesEvent(RecordedAt);

/// <summary>A slot was given up: nothing will be published for it.</summary>
public sealed record SlotGivenUp(LocalDate Slot, string? Reason, Instant RecordedAt) : SeriesEvent(RecordedAt);

/// <summary>A slot that was given up is promised again.</summary>
public sealed record SlotTakenUp(LocalDate Slot, Instant RecordedAt) : SeriesEvent(RecordedAt);

/// <summary>The series promises nothing any more from now on; what was promised before stays.</summary>
public sealed record SeriesClosed(Instant RecordedAt) : SeriesEvent(RecordedAt);

/// <summary>When a series promises to publish.</summary>
/// <param name="Rrule">A recurrence rule of RFC 5545 that names days, e.g. <c>FREQ=WEEKLY;BYDAY=TH</c>.</param>
/// <param name="Start">The date the rule counts from: its DTSTART.</param>
/// <param name="Time">Local time of day of every slot.</param>
/// <param name="Zone">IANA zone id.</param>
public sealed record CadenceTerms(string Rrule, LocalDate Start, LocalTime Time, string Zone);

/// <summary>How a series judges its publications. Elapsed time, bounds inclusive; null means the default.</summary>
/// <param name="OnTimeTolerance">Default 24 h, or the late window where that is shorter.</param>
/// <param name="EarlyWindow">Default 3 days, or half the gap to the slot before where that is shorter.</param>
/// <param name="LateWindow">Default the gap to the next slot less a day, or
/// half the gap where that is under 48 h.</param>
/// <param name="RiskThreshold">The probability of meeting a slot under which its release is at risk, 0 to 1.</param>
public sealed record SeriesSettings(
    Duration? OnTimeTolerance = null, Duration? EarlyWindow = null, Duration? LateWindow = null,
    double RiskThreshold = 0.8);
