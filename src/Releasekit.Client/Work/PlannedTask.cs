using Refit;

namespace Releasekit.Client.Work;

/// <summary>A thing to do on a day, in a week or in a month.</summary>
/// <param name="When">2026-03-05, 2026-W10 or 2026-03.</param>
/// <param name="To">The last local date, included.</param>
/// <param name="CarriedOver">How many of its periods ended while it was open.</param>
/// <param name="StandsIn">The period it was planned for, or carried over to.</param>
/// <param name="Recurrence">The same for all tasks of a recurrence.</param>
public sealed record PlannedTask(
    Guid Id, string Title, string When, LocalDate From, LocalDate To, bool Done, Instant? CompletedAt, int CarriedOver,
    string StandsIn, Sphere Sphere, bool Important, Duration? Effort, string? Note, IReadOnlyList<string> Tags,
    Guid? Recurrence, Instant NotedAt, Instant ChangedAt, Instant? RemovedAt);

/// <summary>Whose time something takes.</summary>
public enum Sphere
{
    /// <summary>Working time.</summary>
    Work,

    /// <summary>One's own.</summary>
    Personal,
}

/// <summary>A task to plan; a title is enough, and means the current week.</summary>
/// <param name="Rrule">Comes again by this rule of RFC 5545.</param>
public sealed record TaskValues(
    string Title, string? When = null, Sphere Sphere = Sphere.Work, bool Important = false, Duration? Effort = null,
    string? Note = null, IReadOnlyList<string>? Tags = null, string? Rrule = null, Instant? NotedAt = null);

/// <summary>When a task was done; now when null.</summary>
public sealed record CompleteTask(Instant? At = null);

/// <summary>How a task comes again.</summary>
public sealed record SetRecurrence(string Rrule);

/// <summary>Which tasks to list; null lets all through.</summary>
public sealed record TaskFilter(
    [property: AliasAs("from")] LocalDate? From = null,
    [property: AliasAs("to")] LocalDate? To = null,
    [property: AliasAs("done")] bool? Done = null,
    [property: AliasAs("sphere")] string? Sphere = null,
    [property: AliasAs("important")] bool? Important = null,
    [property: AliasAs("recurrence")] Guid? Recurrence = null,
    [property: AliasAs("q")] string? Text = null,
    [property: AliasAs("tag")] string? Tag = null,
    [property: AliasAs("removed")] bool? Removed = null);
