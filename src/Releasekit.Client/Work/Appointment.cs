using Refit;

namespace Releasekit.Client.Work;

/// <summary>A fixed time in the diary.</summary>
/// <param name="Date">Local date; of the first one when it recurs.</param>
/// <param name="Time">Null: the whole day.</param>
/// <param name="Except">Local dates of the rule on which it does not happen.</param>
/// <param name="Occurrences">When it happens in the window asked for; null where none was.</param>
public sealed record Appointment(
    Guid Id, string Title, LocalDate Date, LocalTime? Time, Duration Duration, string Zone, Sphere Sphere, bool Busy,
    string? Rrule, IReadOnlyList<LocalDate> Except, string? Place, string? Note, IReadOnlyList<string> Tags,
    Instant NotedAt, Instant ChangedAt, Instant? RemovedAt, IReadOnlyList<Occurrence>? Occurrences);

/// <summary>One time that an appointment happens, UTC, end excluded.</summary>
public sealed record Occurrence(LocalDate Date, Instant StartsAt, Instant EndsAt);

/// <summary>An appointment to make; a title and a date are enough.</summary>
/// <param name="Busy">Null: busy with a time, not busy without.</param>
public sealed record AppointmentValues(
    string Title, LocalDate Date, LocalTime? Time = null, Duration? Duration = null, string? Zone = null,
    Sphere Sphere = Sphere.Work, bool? Busy = null, string? Rrule = null, IReadOnlyList<LocalDate>? Except = null,
    string? Place = null, string? Note = null, IReadOnlyList<string>? Tags = null, Instant? NotedAt = null);

/// <summary>Which appointments to list; null lets all through. From and to go together.</summary>
public sealed record AppointmentFilter(
    [property: AliasAs("from")] LocalDate? From = null,
    [property: AliasAs("to")] LocalDate? To = null,
    [property: AliasAs("sphere")] string? Sphere = null,
    [property: AliasAs("busy")] bool? Busy = null,
    [property: AliasAs("q")] string? Text = null,
    [property: AliasAs("tag")] string? Tag = null,
    [property: AliasAs("removed")] bool? Removed = null);
