namespace Releasekit.Domain;

/// <summary>An expected "no". Exceptions are for bugs; a refusal is an answer, and its code is published.</summary>
/// <param name="Code">Stable and dotted, e.g. <c>stage.unknown</c>; the tail of the problem's <c>type</c>.</param>
/// <param name="Reason">A sentence for a person: what is refused, and what would be accepted.</param>
/// <param name="Kind">Whether the thing is in a state that forbids it, or the request itself is not acceptable.</param>
/// <param name="Member">The member at fault, a JSON pointer such as <c>/at</c>;
/// null when it is none in particular.</param>
public sealed record Refusal(string Code, string Reason, RefusalKind Kind = RefusalKind.Conflict, string? Member = null)
{
    /// <summary>
    /// Every fault found, for a request that has several; empty when <see cref="Reason"/> says it all.
    /// </summary>
    public IReadOnlyList<Fault> Faults { get; init; } = [];

    /// <summary>A refusal of what was asked, whatever the state: told as 422.</summary>
    public static Refusal NotAcceptable(string code, string reason, string? member = null) =>
        new(code, reason, RefusalKind.NotAcceptable, member);

    /// <summary>A refusal of a request with at least one fault, each with its own member.</summary>
    public static Refusal NotAcceptable(string code, IReadOnlyList<Fault> faults) =>
        new(code, string.Join(" ", faults.Select(fault => fault.Reason)),
            RefusalKind.NotAcceptable)
        { Faults = faults };
}

/// <summary>One thing that is wrong with a request.</summary>
/// <param name="Member">JSON pointer to the member at fault, e.g. <c>/stages/2/after</c>.</param>
/// <param name="Reason">A sentence that says what is wrong and what would be right.</param>
public sealed record Fault(string Member, string Reason);

/// <summary>The two ways of saying no.</summary>
public enum RefusalKind
{
    /// <summary>The thing is in a state that forbids it; in another state the same request would be accepted.</summary>
    Conflict,

    /// <summary>The request was understood and cannot be accepted in any state.</summary>
    NotAcceptable,
}
