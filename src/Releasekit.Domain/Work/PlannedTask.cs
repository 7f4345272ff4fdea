using Releasekit.Domain.Entries;

namespace Releasekit.Domain.Work;

/// <summary>
/// A thing to do on a day, in a week or in a month. What is not done by then stays where it was planned and is carried
/// over: it counts how often, and is never rewritten.
/// </summary>
/// <param name="When">When it was meant to be done.</param>
public sealed record PlannedTask(Guid Id, string Title, CalendarPeriod When, Instant NotedAt) : Entry(Id, NotedAt)
{
    private static readonly Duration ClockLeeway = Duration.FromMinutes(2);

    /// <summary>Whose time it takes.</summary>
    public Sphere Sphere { get; init; }

    /// <summary>Whether it must not slip.</summary>
    public bool IsImportant { get; init; }

    /// <summary>Guessed time; null while nobody guessed.</summary>
    public Duration? Effort { get; init; }

    /// <summary>Anything else.</summary>
    public string? Note { get; init; }

    /// <summary>When it was done, UTC; null while it is open.</summary>
    public Instant? CompletedAt { get; init; }

    /// <summary>The recurrence it belongs to; null for a single task.</summary>
    public Guid? Recurrence { get; init; }

    /// <summary>The last local date of <see cref="When"/>.</summary>
    public LocalDate LastDay => When.Last;

    /// <summary>How many of its periods ended while it was open.</summary>
    public int CarriedOver(LocalDate today) => CompletedAt is null ? When.EndedBy(today) : 0;

    /// <summary>Where it stands today: the period it was planned for, or carried over to.</summary>
    public CalendarPeriod StandsIn(LocalDate today) =>
        CarriedOver(today) > 0 ? CalendarPeriod.Holding(When.Kind, today) : When;

    /// <summary>When the period it stands in begins, UTC: it is not meant to be done before.</summary>
    public Instant NotBefore(LocalDate today, DateTimeZone zone) =>
        zone.AtStartOfDay(StandsIn(today).First).ToInstant();

    /// <summary>The end of the last day on which it can be done as things stand, UTC.</summary>
    public Instant DueAt(LocalDate today, DateTimeZone zone) =>
        zone.AtStartOfDay(StandsIn(today).Last.PlusDays(1)).ToInstant();

    /// <summary>
    /// The task as done at <paramref name="at"/>; itself when it is done already. Refuses: <c>occurred.future</c>.
    /// </summary>
    public PlannedTask? Complete(Instant at, Instant now, out Refusal? refusal)
    {
        refusal = at > now + ClockLeeway
            ? Refusal.NotAcceptable("occurred.future", $"{at} is still to come; a task is done now or earlier.", "/at")
            : null;

        return refusal is not null ? null
            : CompletedAt is null ? this with { CompletedAt = at, ChangedAt = now }
            : this;
    }

    /// <summary>The task as open again; itself when it is open.</summary>
    public PlannedTask Reopen(Instant now) =>
        CompletedAt is null ? this : this with { CompletedAt = null, ChangedAt = now };

    /// <summary>Refuses with a fault for each thing that is wrong; null means acceptable.</summary>
    public Refusal? Check(Instant now) => EntryRules.Refuse(
    [
        .. EntryRules.FaultsOfLine(Title, "/title", "The title of a task"),
        .. EntryRules.FaultsOfEffort(Effort),
        .. EntryRules.FaultsOfNote(Note),
        .. CompletedAt > now + ClockLeeway
            ? [new Fault("/completedAt", $"{CompletedAt} is still to come; a task is done now or earlier.")]
            : Array.Empty<Fault>(),
        .. EntryRules.FaultsOf(this, now),
    ]);
}

/// <summary>Whose time something takes.</summary>
public enum Sphere
{
    /// <summary>Working time.</summary>
    Work,

    /// <summary>One's own.</summary>
    Personal,
}
