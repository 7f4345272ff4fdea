namespace Releasekit.Domain.Statistics.Flow;

/// <summary>What a stage is for.</summary>
public enum StageRole
{
    /// <summary>It makes the release.</summary>
    Making,

    /// <summary>It is the publication.</summary>
    Publication,

    /// <summary>It follows the publication.</summary>
    FollowUp,
}

/// <summary>A time spent on a stage, from its start to its end.</summary>
/// <param name="From">UTC, included; null when it was completed without a start: unknown, not equal to the end.</param>
/// <param name="To">UTC, excluded; null while it goes on.</param>
/// <param name="Blocked">When it could not go on, in order, apart, inside it; the last may have no end.</param>
public sealed record StageVisit(Instant? From, Instant? To, IReadOnlyList<Interval> Blocked);

/// <summary>What was done to a stage of a release.</summary>
/// <param name="Key">The stage's key.</param>
/// <param name="Effort">Working time that was planned for it; null when nobody guessed.</param>
/// <param name="IsSkipped">Whether it was left out: its time is then no time, not 0.</param>
/// <param name="CompletedAt">UTC; null while it is not completed.</param>
/// <param name="Visits">In order; after a reopening another one begins.</param>
public sealed record StageFacts(
    string Key,
    StageRole Role,
    Duration? Effort,
    bool IsSkipped,
    Instant? CompletedAt,
    IReadOnlyList<StageVisit> Visits);

/// <summary>What the figures need to know of a release, as of an instant. Times of day are UTC.</summary>
/// <param name="Release">Its id.</param>
/// <param name="PlannedAt">When it was accepted into the series (commit).</param>
/// <param name="AsOf">The instant the facts were read at; what is open is followed up to it.</param>
/// <param name="Stages">In working order.</param>
/// <param name="PublishedAt">When it was first public (finish); null while it is not.</param>
/// <param name="DroppedAt">When it was given up; null when it was not.</param>
/// <param name="Slot">The slot it holds, by its local date; null without one.</param>
public sealed record ReleaseFacts(
    Guid Release,
    Instant PlannedAt,
    Instant AsOf,
    IReadOnlyList<StageFacts> Stages,
    Instant? PublishedAt,
    Instant? DroppedAt,
    LocalDate? Slot)
{
    /// <summary>The slug of its series.</summary>
    public string Series { get; init; } = "";

    /// <summary>The version of its stage plan: a chart begins anew where it changes.</summary>
    public int PlanVersion { get; init; }

    /// <summary>The first start of a stage up to the publication; null when not begun, or when a stage was completed
    /// without a start before it.</summary>
    public Instant? StartedAt { get; } = FirstStart(Stages);

    /// <summary>
    /// The first trace of work up to the publication: a start, or a completion without one. Null when there is none.
    /// </summary>
    public Instant? BegunBy { get; } = FirstTrace(Stages);

    /// <summary>
    /// When it was ready to be published: the last making stage done. Its publication where none is told; null while
    /// it is not ready.
    /// </summary>
    public Instant? ReadyAt { get; } = Ready(Stages) is { } ready && !(PublishedAt < ready) ? ready : PublishedAt;

    /// <summary>When it left the work in progress: published or dropped; null while it has not.</summary>
    public Instant? LeftAt => PublishedAt ?? DroppedAt;

    /// <summary>Whether it was begun and nobody knows when.</summary>
    public bool IsStartUnknown => BegunBy is not null && StartedAt is null;

    private static Instant? FirstStart(IReadOnlyList<StageFacts> stages)
    {
        Instant? start = null, unknown = null;
        foreach (var visit in UpToPublication(stages))
        {
            start = Earlier(start, visit.From);
            unknown = visit.From is null ? Earlier(unknown, visit.To) : unknown;
        }

        return unknown < start ? null : start;
    }

    private static Instant? Ready(IReadOnlyList<StageFacts> stages)
    {
        Instant? ready = null;
        foreach (var stage in stages)
        {
            if (stage.Role is StageRole.Making && !stage.IsSkipped)
            {
                if (stage.CompletedAt is null)
                {
                    return null;
                }

                ready = ready > stage.CompletedAt ? ready : stage.CompletedAt;
            }
        }

        return ready;
    }

    private static Instant? FirstTrace(IReadOnlyList<StageFacts> stages)
    {
        Instant? trace = null;
        foreach (var visit in UpToPublication(stages))
        {
            trace = Earlier(trace, visit.From ?? visit.To);
        }

        return trace;
    }

    private static IEnumerable<StageVisit> UpToPublication(IReadOnlyList<StageFacts> stages)
    {
        foreach (var stage in stages)
        {
            if (stage.Role is not StageRole.FollowUp)
            {
                foreach (var visit in stage.Visits)
                {
                    yield return visit;
                }
            }
        }
    }

    private static Instant? Earlier(Instant? one, Instant? other) =>
        one is { } known && (other is null || known <= other) ? one : other;
}
