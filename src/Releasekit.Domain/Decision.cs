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

/// <summary>An expected "no". Exceptions are for bugs; a refusal is an answer, and its code is published.</summary>
/// <param name="Code">Stable and dotted, e.g. <c>stage.unknown</c>; the tail of the problem's <c>type</c>.</param>
/// <param name="Reason">A sentence for a person: what is refused, and what would be accepted.</param>
/// <param name="Kind">Whether the thing is in a state that forbids it, or the request itself is not acceptable.</param>
/// <param name="Member">The member at fault, a JSON pointer such as <c>/at</c>; null when it is none in particular.</param>
public sealed record Refusal(string Code, string Reason, RefusalKind Kind = RefusalKind.Conflict, string? Member = null)
{
    /// <summary>A refusal of what was asked, whatever the state: told as 422.</summary>
    public static Refusal NotAcceptable(string code, string reason, string? member = null) =>
        new(code, reason, RefusalKind.NotAcceptable, member);
}

/// <summary>The two ways of saying no.</summary>
public enum RefusalKind
{
    /// <summary>The thing is in a state that forbids it; in another state the same request would be accepted.</summary>
    Conflict,

    /// <summary>The request was understood and cannot be accepted in any state.</summary>
    NotAcceptable,
}
