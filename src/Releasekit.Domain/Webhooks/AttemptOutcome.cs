namespace Releasekit.Domain.Webhooks;

/// <summary>How an attempt to deliver a message ended: with an answer, or without.</summary>
/// <param name="Status">The status of the answer; null when there was none.</param>
/// <param name="RetryAfter">Its Retry-After header, as it came.</param>
/// <param name="Failure">Why there was no answer; null when there was one.</param>
public sealed record AttemptOutcome(int? Status, string? RetryAfter, AttemptFailure? Failure)
{
    /// <summary>The receiver answered.</summary>
    public static AttemptOutcome Answered(int status, string? retryAfter = null) => new(status, retryAfter, null);

    /// <summary>There was no answer.</summary>
    public static AttemptOutcome Failed(AttemptFailure failure) => new(null, null, failure);
}

/// <summary>Why an attempt had no answer.</summary>
public enum AttemptFailure
{
    /// <summary>The name has no address.</summary>
    NameUnknown,

    /// <summary>An address behind the name is none that messages may be sent to.</summary>
    AddressRefused,

    /// <summary>Nothing listens there, or the way is closed.</summary>
    NotConnected,

    /// <summary>No secure connection: the certificate is expired, of another name, or not trusted.</summary>
    NotSecure,

    /// <summary>It took too long.</summary>
    TimedOut,

    /// <summary>The connection broke, or what came back is no HTTP or has no end.</summary>
    AnswerBroken,

    /// <summary>The service stopped before the answer came.</summary>
    Interrupted,

    /// <summary>The message itself cannot be written or signed; sending it again would not help.</summary>
    NotWritable,
}
