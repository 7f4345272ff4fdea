using System.Collections;
using System.Runtime.CompilerServices;

namespace Releasekit.Domain;

/// <summary>
/// The answer to a command: the events it causes, in order, or the reason it is refused.
/// No events and no refusal means "already so": repeating the command changes nothing.
/// </summary>
[CollectionBuilder(typeof(Decision), nameof(Decision.Accept))]
public sealed class Decision<TEvent> : IEnumerable<TEvent>
{
    private readonly IReadOnlyList<TEvent> _events;

    internal Decision(IReadOnlyList<TEvent> events, Refusal? refusal) => (_events, Refusal) = (events, refusal);

    /// <summary>Why the command is refused; null when it is accepted.</summary>
    public Refusal? Refusal { get; }

    /// <summary>Refuses the command.</summary>
    public static implicit operator Decision<TEvent>(Refusal refusal) => new([], refusal);

    /// <inheritdoc />
    public IEnumerator<TEvent> GetEnumerator() => _events.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}

/// <summary>Lets a decision be written as a list: <c>return [new StageCompleted(...)];</c></summary>
public static class Decision
{
    /// <summary>Accepts the command with <paramref name="events"/>, in the order they happened.</summary>
    public static Decision<TEvent> Accept<TEvent>(ReadOnlySpan<TEvent> events) => new(events.ToArray(), null);
}
