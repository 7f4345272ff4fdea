namespace Releasekit.Domain.Reminders;

/// <summary>What happened to a publisher as a whole.</summary>
public abstract record PublisherEvent
{
    private protected PublisherEvent(Instant occurredAt, Instant recordedAt) =>
        (OccurredAt, RecordedAt) = (occurredAt, recordedAt);

    /// <summary>When it happened, UTC.</summary>
    public Instant OccurredAt { get; init; }

    /// <summary>When it was recorded, UTC.</summary>
    public Instant RecordedAt { get; init; }
}

/// <summary>The publisher was reminded.</summary>
/// <param name="Subject">As in <see cref="Occasion"/>.</param>
/// <param name="Occasion">The key of the occasion.</param>
/// <param name="Late">Whether the service could only say it afterwards: it did not run when the occasion came.</param>
/// <param name="OccurredAt">When the occasion came, UTC.</param>
/// <param name="RecordedAt">When the publisher was reminded, UTC.</param>
public sealed record ReminderRaised(
    ReminderType Type, string Subject, string Occasion, string Title, ReminderFacts Facts, bool Late,
    Instant OccurredAt, Instant RecordedAt) : PublisherEvent(OccurredAt, RecordedAt)
{
    /// <summary>Later than this after the occasion is late.</summary>
    private static readonly Duration Prompt = Duration.FromMinutes(10);

    /// <summary>The event that tells of an occasion at <paramref name="now"/>.</summary>
    public static ReminderRaised Of(Occasion occasion, Instant now) => new(
        occasion.Type, occasion.Subject, occasion.Key, occasion.Title, occasion.Facts, now - occasion.At > Prompt,
        occasion.At, now);
}
