namespace Releasekit.Domain.Planning;

/// <summary>
/// How much a working hour of the calendar counts when a week is taken to hold other hours than it does.
/// </summary>
/// <param name="Held">What a week of the calendar holds.</param>
/// <param name="Taken">What it is taken to hold, from zero.</param>
internal readonly record struct WorkClockRate(Duration Held, Duration Taken)
{
    /// <summary>Whether no time counts at all.</summary>
    public bool IsIdle => Taken <= Duration.Zero || Held == Duration.Zero;

    /// <summary>
    /// Ticks of the calendar that so much work takes, rounded down: what fits exactly must not miss by a tick.
    /// </summary>
    public long Stretched(Duration work) => IsIdle || Held == Taken
        ? work.BclCompatibleTicks
        : (long)((Int128)work.BclCompatibleTicks * Held.BclCompatibleTicks / Taken.BclCompatibleTicks);

    /// <summary>
    /// How much work is done in so many ticks of the calendar, rounded up: what is missing is never nothing.
    /// </summary>
    public Duration Worked(long ticks) => Duration.FromTicks(IsIdle || Held == Taken
        ? ticks
        : (long)(((Int128)ticks * Taken.BclCompatibleTicks + Held.BclCompatibleTicks - 1) / Held.BclCompatibleTicks));
}
