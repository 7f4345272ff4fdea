using System.Diagnostics;

namespace Releasekit.Domain.Schedule;

/// <summary>A stream of releases with one cadence, as its events leave it.</summary>
public sealed record Series
{
    /// <summary>Derived from the slug, so that a slug finds its stream.</summary>
    public required Guid Id { get; init; }

    /// <summary>What URLs and people call it.</summary>
    public required string Slug { get; init; }

    /// <summary>One line.</summary>
    public required string Title { get; init; }

    /// <summary>The plan its releases follow unless they say otherwise.</summary>
    public required string StagePlan { get; init; }

    /// <summary>Tolerance and windows.</summary>
    public required SeriesSettings Settings { get; init; }

    /// <summary>
    /// One for each time a cadence was set, in that order; never empty once opened. One that was replaced before its
    /// first date stays here, as it may have promised something by then.
    /// </summary>
    public IReadOnlyList<CadenceReign> Cadences { get; init; } = [];

    /// <summary>In the order they were planned, cancelled ones included.</summary>
    public IReadOnlyList<PlannedBreak> Breaks { get; init; } = [];

    /// <summary>Moves and give-ups of single slots, in the order they were recorded.</summary>
    public IReadOnlyList<SlotChange> SlotChanges { get; init; } = [];

    /// <summary>When it was closed, UTC; null while it is open.</summary>
    public Instant? ClosedAt { get; init; }

    /// <summary>When it was opened, UTC.</summary>
    public Instant OpenedAt { get; init; }

    /// <summary>The number of its latest event, counting from 1.</summary>
    public long Sequence { get; init; }

    /// <summary>When the latest event was recorded, UTC.</summary>
    public Instant ChangedAt { get; init; }

    /// <summary>The rule that was set last.</summary>
    public CadenceTerms Cadence => Cadences[^1].Terms;

    /// <summary>The zone of the rule that was set last.</summary>
    public DateTimeZone Zone => LocalTimes.FindZone(Cadence.Zone)!;

    /// <summary>The series after one more event. Every event has exactly one line here.</summary>
    public static Series Evolve(Series? before, long sequence, SeriesEvent happened)
    {
        var after = (before, happened) switch
        {
            (null, SeriesOpened e) => new Series
            {
                Id = e.Series,
                Slug = e.Slug,
                Title = e.Title,
                StagePlan = e.StagePlan,
                Settings = e.Settings,
                OpenedAt = e.RecordedAt,
            },
            ({ } s, SeriesAmended e) => s with { Title = e.Title, StagePlan = e.StagePlan, Settings = e.Settings },
            ({ } s, CadenceSet e) => s with { Cadences = [.. s.Cadences, new(e.Terms, e.From, e.RecordedAt)] },
            ({ } s, BreakPlanned e) => s with
            {
                Breaks = [.. s.Breaks, new(e.Break, e.From, e.To, e.Reason, e.RecordedAt, CancelledAt: null)],
            },
            ({ } s, BreakCancelled e) => s with
            {
                Breaks = [.. s.Breaks.Select(b => b.Id == e.Break ? b with { CancelledAt = e.RecordedAt } : b)],
            },
            ({ } s, SlotMoved e) => s.Changed(new(e.Slot, SlotChangeKind.Moved, e.To, null, e.RecordedAt)),
            ({ } s, SlotGivenUp e) => s.Changed(new(e.Slot, SlotChangeKind.GivenUp, null, e.Reason, e.RecordedAt)),
            ({ } s, SlotTakenUp e) => s.Changed(new(e.Slot, SlotChangeKind.TakenUp, null, null, e.RecordedAt)),
            ({ } s, SeriesClosed e) => s with { ClosedAt = e.RecordedAt },
            _ => throw new UnreachableException(
                $"{happened.GetType().Name} cannot follow {before?.Slug ?? "nothing"}."),
        };

        return after with { Sequence = sequence, ChangedAt = happened.RecordedAt };
    }

    private Series Changed(SlotChange change) => this with { SlotChanges = [.. SlotChanges, change] };
}

/// <summary>A rule and the first local date it holds for.</summary>
public sealed record CadenceReign(CadenceTerms Terms, LocalDate From, Instant RecordedAt);

/// <summary>
/// A pause, both ends included. One that was cancelled still excuses the slots whose time came before that.
/// </summary>
public sealed record PlannedBreak(
    Guid Id, LocalDate From, LocalDate To, string? Reason, Instant RecordedAt, Instant? CancelledAt)
{
    /// <summary>Whether <paramref name="date"/> lies in it, whenever it was planned.</summary>
    public bool Covers(LocalDate date) => From <= date && date <= To;
}

/// <summary>What was decided about a single slot.</summary>
/// <param name="To">Where it was moved to, local; null unless moved.</param>
public sealed record SlotChange(
    LocalDate Slot, SlotChangeKind Kind, LocalDateTime? To, string? Reason, Instant RecordedAt);

/// <summary>The ways a single slot changes.</summary>
public enum SlotChangeKind
{
    /// <summary>To another local time.</summary>
    Moved,

    /// <summary>Nothing will be published for it.</summary>
    GivenUp,

    /// <summary>Promised again.</summary>
    TakenUp,
}
