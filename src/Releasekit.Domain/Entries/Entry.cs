namespace Releasekit.Domain.Entries;

/// <summary>Something in the notebook: an idea, a note, a want, a task, an appointment.</summary>
/// <param name="NotedAt">When it came to mind, UTC; may lie before it was entered.</param>
public abstract record Entry(Guid Id, Instant NotedAt)
{
    /// <summary>How long a removed entry can be brought back.</summary>
    public static readonly Duration KeptRemoved = Duration.FromDays(30);

    /// <summary>When it was last changed, UTC.</summary>
    public Instant ChangedAt { get; init; } = NotedAt;

    /// <summary>When it was removed, UTC; null while it stands.</summary>
    public Instant? RemovedAt { get; init; }

    /// <summary>Words to find it by, lower-case, in order, each once.</summary>
    public IReadOnlyList<string> Tags { get; init; } = [];

    /// <summary>Whether it stands, or can still be brought back, at <paramref name="at"/>.</summary>
    public bool IsKept(Instant at) => RemovedAt is not { } removed || at - removed <= KeptRemoved;
}
