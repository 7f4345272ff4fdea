namespace Releasekit.Domain.Webhooks;

/// <summary>
/// How an endpoint has been doing. After 5 failures in a row its circuit is open: only the head of its queue is tried,
/// on its own schedule. The first success closes it, and everything that waits is due at once. It is kept with the
/// endpoint, as a breaker in memory would forget a receiver that is called a few times a day.
/// </summary>
/// <param name="FailuresInRow">Attempts since the last success, or since the endpoint was enabled.</param>
/// <param name="FailingSince">When the first of them ended, UTC; null when there is none.</param>
/// <param name="Disabled">Why nothing is sent any more; null while something is.</param>
public sealed record Circuit(int FailuresInRow, Instant? FailingSince, DisabledReason? Disabled)
{
    /// <summary>So many failures in a row open it.</summary>
    public const int FailuresToOpen = 5;

    /// <summary>An endpoint is not disabled before this many failures in a row.</summary>
    public const int FailuresToDisable = 10;

    /// <summary>An endpoint is not disabled before it has failed for so long, elapsed.</summary>
    public static readonly Duration DisabledAfter = Duration.FromDays(7);

    /// <summary>A new endpoint, and one that its owner enabled again.</summary>
    public static readonly Circuit Closed = new(0, null, null);

    /// <summary>Whether only the head of the queue is tried.</summary>
    public bool IsOpen => FailuresInRow >= FailuresToOpen;

    /// <summary>Whether a message that is due may be sent now.</summary>
    /// <param name="isHead">Whether it is the oldest that waits for this endpoint.</param>
    public bool MaySend(bool isHead) => Disabled is null && (isHead || !IsOpen);

    /// <summary>The circuit after an attempt, and what the attempt changed.</summary>
    /// <param name="at">When it ended, UTC.</param>
    public CircuitStep After(DeliveryVerdict verdict, Instant at)
    {
        // An answer that comes after the endpoint was disabled enables nothing: that is for its owner to say.
        if (Disabled is not null || !verdict.ConcernsReceiver)
        {
            return new(this);
        }

        if (verdict.Kind is VerdictKind.Delivered)
        {
            // Of a closed circuit nothing is released: one message that is refused while others are accepted would use
            // up its attempts within minutes.
            return new(Closed, ReleasesBacklog: IsOpen);
        }

        var failed = this with { FailuresInRow = FailuresInRow + 1, FailingSince = FailingSince ?? at };

        return failed.ReasonToDisable(verdict, at) is { } reason
            ? new(failed with { Disabled = reason }, Disables: true)
            : new(failed, Opens: failed.IsOpen && !IsOpen);
    }

    private DisabledReason? ReasonToDisable(DeliveryVerdict verdict, Instant at) =>
        verdict.Kind is VerdictKind.Gone ? DisabledReason.Gone
        : FailuresInRow >= FailuresToDisable && at - FailingSince >= DisabledAfter ? DisabledReason.Failing
        : null;
}

/// <summary>What an attempt changed.</summary>
/// <param name="After">The circuit from now on.</param>
/// <param name="Opens">Whether only the head is tried from now on, and was not only before.</param>
/// <param name="ReleasesBacklog">Whether everything that waits for the endpoint is due now, in its order.</param>
/// <param name="Disables">Whether nothing is sent from now on; the owner must be told.</param>
public sealed record CircuitStep(
    Circuit After, bool Opens = false, bool ReleasesBacklog = false, bool Disables = false);

/// <summary>Why nothing is sent to an endpoint.</summary>
public enum DisabledReason
{
    /// <summary>It answered 410.</summary>
    Gone,

    /// <summary>For 7 days nothing was accepted.</summary>
    Failing,

    /// <summary>Its owner said so.</summary>
    Owner,
}
