namespace Releasekit.Domain.Webhooks;

/// <summary>
/// When a message that could not be delivered is sent again: 18 attempts over at least 7 days, 3 hours and 52 minutes.
/// Standard Webhooks 1.0.0 asks for several days, exponential steps and jitter; the steps are our own.
/// </summary>
public static class RetrySchedule
{
    /// <summary>
    /// So much longer than planned a wait may be, as a share; never shorter, so that the window is a floor.
    /// </summary>
    public const double MostJitter = 0.25;

    private static readonly Duration[] Waits =
    [
        Duration.FromSeconds(5), Duration.FromSeconds(30), Duration.FromMinutes(2), Duration.FromMinutes(5),
        Duration.FromMinutes(15), Duration.FromMinutes(30), Duration.FromHours(1), Duration.FromHours(2),
        Duration.FromHours(4), Duration.FromHours(8), Duration.FromHours(12), Duration.FromHours(24),
        Duration.FromHours(24), Duration.FromHours(24), Duration.FromHours(24), Duration.FromHours(24),
        Duration.FromHours(24),
    ];

    /// <summary>So often a message is sent at most, the first time included.</summary>
    public static int MostAttempts => Waits.Length + 1;

    /// <summary>From the first attempt to the last, at least.</summary>
    public static Duration Window => Waits.Aggregate(Duration.Zero, (sum, wait) => sum + wait);

    /// <summary>When the next attempt is due, UTC; null when there is none any more.</summary>
    /// <param name="attempts">How many were made, 1 or more.</param>
    /// <param name="at">When the last one ended, UTC.</param>
    /// <param name="share">A random number from 0 to 1: how much of the jitter to take.</param>
    /// <param name="retryAfter">What the receiver asked for; the wait is never shorter.</param>
    public static Instant? Next(int attempts, Instant at, double share, Duration? retryAfter = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(attempts, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(share);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(share, 1);

        if (attempts >= MostAttempts)
        {
            return null;
        }

        var wait = Waits[attempts - 1] * (1 + (MostJitter * share));
        return at + Duration.Max(wait, retryAfter ?? Duration.Zero);
    }
}
