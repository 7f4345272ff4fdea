namespace Releasekit.Domain.Webhooks;

/// <summary>What follows from an attempt for the message.</summary>
/// <param name="NextAt">When it is sent again, UTC; null unless it is.</param>
/// <param name="ConcernsReceiver">Whether the attempt says anything of how the receiver does.</param>
public sealed record DeliveryVerdict(VerdictKind Kind, Instant? NextAt = null, bool ConcernsReceiver = true)
{
    private const int Gone = 410;
    private const int TooManyRequests = 429;
    private const int BadGateway = 502;
    private const int Unavailable = 503;
    private const int GatewayTimeout = 504;

    /// <summary>
    /// Judges an attempt. Success is 200 to 299 alone; 410 ends the endpoint; everything else is sent again, other 4xx
    /// included, as a receiver's bad deployment often answers so.
    /// </summary>
    /// <param name="attempts">How many were made, this one included.</param>
    /// <param name="at">When it ended, UTC.</param>
    /// <param name="share">A random number from 0 to 1, see <see cref="RetrySchedule.Next"/>.</param>
    public static DeliveryVerdict Of(AttemptOutcome outcome, int attempts, Instant at, double share)
    {
        switch (outcome)
        {
            case { Status: >= 200 and <= 299 }:
                return new(VerdictKind.Delivered);
            case { Status: Gone }:
                return new(VerdictKind.Gone);
            case { Failure: AttemptFailure.NotWritable }:
                return new(VerdictKind.DeadLettered, ConcernsReceiver: false);
        }

        var asked = MayAskForTime(outcome.Status) ? RetryAfter.Read(outcome.RetryAfter, at) : null;

        return RetrySchedule.Next(attempts, at, share, asked) is not { } next
            ? new(VerdictKind.DeadLettered)
            : new(
                IsThrottling(outcome.Status, asked) ? VerdictKind.Throttled : VerdictKind.RetryAt,
                next,
                outcome.Failure is not AttemptFailure.Interrupted);
    }

    private static bool MayAskForTime(int? status) =>
        status is TooManyRequests or BadGateway or Unavailable or GatewayTimeout;

    private static bool IsThrottling(int? status, Duration? asked) =>
        status is TooManyRequests or BadGateway or GatewayTimeout || asked is not null;
}

/// <summary>What becomes of a message after an attempt.</summary>
public enum VerdictKind
{
    /// <summary>The receiver has it.</summary>
    Delivered,

    /// <summary>It is sent again later; others to the endpoint need not wait for it.</summary>
    RetryAt,

    /// <summary>It is sent again later, and nothing else is sent to the endpoint before that.</summary>
    Throttled,

    /// <summary>The endpoint is no more: nothing is sent to it; the message stays to be replayed.</summary>
    Gone,

    /// <summary>It is not sent again by itself; it stays until it is replayed or dismissed.</summary>
    DeadLettered,
}
