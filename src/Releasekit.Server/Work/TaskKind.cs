using Releasekit.Domain;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Work;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Search;

namespace Releasekit.Server.Work;

/// <summary>Tasks: things to do on a day, in a week or in a month.</summary>
internal sealed class TaskKind : EntryKind<PlannedTask, TaskValues, TaskBody>
{
    public override string Name => "task";

    public override string Description => """
        A title is enough: without "when" it is for the current week. What is not done in time is carried over and
        counted, and keeps the period it was planned for. With "rrule" it comes again, and its tasks stand a year ahead.
        Dates that an authority sets, such as those of taxes, are for you to look up: local rules decide, and a licensed
        adviser knows them.
        """;

    public override PlannedTask Write(PlannedTask? before, TaskValues values, Guid id, EntryScene scene)
    {
        var when = CalendarPeriod.TryParse(values.When)
            ?? before?.When
            ?? CalendarPeriod.Holding(PeriodKind.Week, scene.Today);
        when = before is null && values.Rrule is { } rule ? Recurrence.FirstPeriod(rule, when) : when;

        return (before ?? new PlannedTask(id, values.Title, when, scene.Now)) with
        {
            Title = values.Title,
            When = when,
            NotedAt = values.NotedAt ?? before?.NotedAt ?? scene.Now,
            Sphere = values.Sphere,
            IsImportant = values.Important,
            Effort = values.Effort,
            Note = values.Note,
            CompletedAt = values.CompletedAt,
            Tags = EntryRules.Tidied(values.Tags),
        };
    }

    public override Refusal? CheckValues(TaskValues values, PlannedTask? before, EntryScene scene) => EntryRules.Refuse(
    [
        .. values.When is { } text && CalendarPeriod.TryParse(text) is null
            ? [new Fault("/when", "A day, an ISO week or a month: 2026-03-05, 2026-W10 or 2026-03, from 1970 to 2199.")]
            : Array.Empty<Fault>(),
        .. before is null
            ? EntryRules.FaultsOfRule(
                values.Rrule,
                (CalendarPeriod.TryParse(values.When) ?? CalendarPeriod.Holding(PeriodKind.Week, scene.Today)).First)
            : values.Rrule is not null
                ? [new Fault(
                    "/rrule", $"How a task comes again is changed with PUT /v1/tasks/{before.Id}/recurrence.")]
                : [],
    ]);

    public override Refusal? Check(PlannedTask entry, Instant now) => entry.Check(now);

    public override Task<(PlannedTask Entry, Problem? Problem)> Resolve(
        PlannedTask entry, PlannedTask? before, TaskValues values, EntryScene scene)
    {
        if (before is not null || values.Rrule is not { } rule)
        {
            return base.Resolve(entry, before, values, scene);
        }

        var first = TasksAhead.Begin(scene.Writing, this, rule, entry, scene);
        return Task.FromResult((first, (Problem?)null));
    }

    public override TaskValues ValuesOf(PlannedTask entry) => new(
        entry.Title, entry.When.ToString(), entry.Sphere, entry.IsImportant, entry.Effort, entry.Note, entry.Tags,
        null, entry.NotedAt, entry.CompletedAt);

    public override TaskBody Show(PlannedTask entry, EntryScene scene) => new(
        entry.Id, entry.Title, entry.When.ToString(), entry.When.First, entry.When.Last, entry.CompletedAt is not null,
        entry.CompletedAt, entry.CarriedOver(scene.Today), entry.StandsIn(scene.Today).ToString(), entry.Sphere,
        entry.IsImportant, entry.Effort, entry.Note, entry.Tags, entry.Recurrence, entry.NotedAt, entry.ChangedAt,
        entry.RemovedAt);

    public override string IdentityOf(PlannedTask entry) => $"{entry.Title}\n{entry.When}";

    public override Searchable Searched(PlannedTask entry) =>
        new(entry.Title, $"{entry.Note}\n{string.Join(' ', entry.Tags)}", entry.ChangedAt);
}

/// <param name="Title">One line.</param>
/// <param name="When">A day, an ISO week or a month: 2026-03-05, 2026-W10, 2026-03. The current week when left
/// out.</param>
/// <param name="Sphere">work or personal.</param>
/// <param name="Important">Whether it must not slip.</param>
/// <param name="Effort">A guess of the time it takes.</param>
/// <param name="Note">Anything else.</param>
/// <param name="Tags">Words to find it by; kept in lower case.</param>
/// <param name="Rrule">Comes again by this rule of RFC 5545, such as FREQ=MONTHLY;INTERVAL=3; with POST only.</param>
/// <param name="NotedAt">When it came to mind; now when left out.</param>
/// <param name="CompletedAt">When it was done; left out while it is open.</param>
internal sealed record TaskValues(
    string Title,
    string? When = null,
    Sphere Sphere = Sphere.Work,
    bool Important = false,
    Duration? Effort = null,
    string? Note = null,
    IReadOnlyList<string>? Tags = null,
    string? Rrule = null,
    Instant? NotedAt = null,
    Instant? CompletedAt = null);

/// <param name="Id">Given when it was noted.</param>
/// <param name="Title">One line.</param>
/// <param name="When">The period it was planned for: a day, an ISO week or a month.</param>
/// <param name="From">The first local date of that period.</param>
/// <param name="To">Its last local date.</param>
/// <param name="Done">Whether it is done.</param>
/// <param name="CompletedAt">When it was done; null while it is open.</param>
/// <param name="CarriedOver">How many of its days, weeks or months ended while it was open.</param>
/// <param name="StandsIn">Where it stands today: the period it was planned for, or was carried over to.</param>
/// <param name="Sphere">Whose time it takes.</param>
/// <param name="Important">Whether it must not slip.</param>
/// <param name="Effort">Guessed time; null while nobody guessed.</param>
/// <param name="Note">Anything else; null for nothing.</param>
/// <param name="Tags">In lower case, in order.</param>
/// <param name="Recurrence">The same for all tasks of a recurrence; null for a single task.</param>
/// <param name="NotedAt">When it came to mind, or was made of a recurrence.</param>
/// <param name="ChangedAt">When it was last changed.</param>
/// <param name="RemovedAt">When it was removed; null while it stands.</param>
internal sealed record TaskBody(
    Guid Id, string Title, string When, LocalDate From, LocalDate To, bool Done, Instant? CompletedAt, int CarriedOver,
    string StandsIn, Sphere Sphere, bool Important, Duration? Effort, string? Note, IReadOnlyList<string> Tags,
    Guid? Recurrence, Instant NotedAt, Instant ChangedAt, Instant? RemovedAt) : ITagged;
