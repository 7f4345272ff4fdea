using Releasekit.Domain;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Work;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Search;

namespace Releasekit.Server.Work;

/// <summary>Appointments: fixed times in the diary.</summary>
internal sealed class AppointmentKind : EntryKind<Appointment, AppointmentValues, AppointmentBody>
{
    public override string Name => "appointment";

    public override string Description => """
        A title and a date are enough: without "time" it takes the whole day. Busy ones take working hours, from
        schedules and from capacity alike; those with a time are busy unless you say otherwise, those of a whole day
        are not. With "rrule" it happens again and again, but on the dates of "except".
        """;

    public override Appointment Write(Appointment? before, AppointmentValues values, Guid id, EntryScene scene) =>
        (before ?? new Appointment(id, values.Title, values.Date, scene.Now)) with
        {
            Title = values.Title,
            Date = values.Date,
            Time = values.Time,
            Length = values.Duration ?? (values.Time is null ? Duration.FromDays(1) : Duration.FromHours(1)),
            Zone = values.Zone ?? scene.Publisher.Zone,
            NotedAt = values.NotedAt ?? before?.NotedAt ?? scene.Now,
            Sphere = values.Sphere,
            IsBusy = values.Busy ?? values.Time is not null,
            Rule = values.Rrule,
            Except = [.. (values.Except ?? []).Distinct().Order()],
            Place = values.Place,
            Note = values.Note,
            Tags = EntryRules.Tidied(values.Tags),
        };

    public override Refusal? Check(Appointment entry, Instant now) => entry.Check(now);

    public override AppointmentValues ValuesOf(Appointment entry) => new(
        entry.Title, entry.Date, entry.Time, entry.Length, entry.Zone, entry.Sphere, entry.IsBusy, entry.Rule,
        entry.Except, entry.Place, entry.Note, entry.Tags, entry.NotedAt);

    public override AppointmentBody Show(Appointment entry, EntryScene scene) => Show(entry, null);

    /// <param name="window">Occurrences in it are shown; none when null.</param>
    public static AppointmentBody Show(Appointment entry, Interval? window) => new(
        entry.Id, entry.Title, entry.Date, entry.Time, entry.Length, entry.Zone, entry.Sphere, entry.IsBusy,
        entry.Rule, entry.Except, entry.Place, entry.Note, entry.Tags, entry.NotedAt, entry.ChangedAt, entry.RemovedAt,
        window is { } shown
            ? [.. entry.Within(shown).Select(one => new OccurrenceBody(one.Date, one.Time.Start, one.Time.End))]
            : null);

    public override string IdentityOf(Appointment entry) => $"{entry.Title}\n{entry.Date}\n{entry.Time}";

    public override Searchable Searched(Appointment entry) => new(
        entry.Title, $"{entry.Place}\n{entry.Note}\n{string.Join(' ', entry.Tags)}", entry.ChangedAt);
}

/// <param name="Title">One line.</param>
/// <param name="Date">Local date; of the first one when it recurs.</param>
/// <param name="Time">Local time it begins; left out: the whole day.</param>
/// <param name="Duration">PT1H when left out, P1D without a time.</param>
/// <param name="Zone">IANA zone id; the publisher's when left out.</param>
/// <param name="Sphere">work or personal.</param>
/// <param name="Busy">Whether no work can be done meanwhile; true with a time, false without, when left out.</param>
/// <param name="Rrule">A rule of days, RFC 5545, such as FREQ=WEEKLY;BYDAY=TU; left out when it happens once.</param>
/// <param name="Except">Local dates of the rule on which it does not happen.</param>
/// <param name="Place">Where; one line.</param>
/// <param name="Note">Anything else.</param>
/// <param name="Tags">Words to find it by; kept in lower case.</param>
/// <param name="NotedAt">When it was noted; now when left out.</param>
internal sealed record AppointmentValues(
    string Title,
    LocalDate Date,
    LocalTime? Time = null,
    Duration? Duration = null,
    string? Zone = null,
    Sphere Sphere = Sphere.Work,
    bool? Busy = null,
    string? Rrule = null,
    IReadOnlyList<LocalDate>? Except = null,
    string? Place = null,
    string? Note = null,
    IReadOnlyList<string>? Tags = null,
    Instant? NotedAt = null);

/// <param name="Id">Given when it was noted.</param>
/// <param name="Title">One line.</param>
/// <param name="Date">Local date; of the first one when it recurs.</param>
/// <param name="Time">Local time it begins; null: the whole day.</param>
/// <param name="Duration">How long it takes.</param>
/// <param name="Zone">IANA zone id in which date and time are meant.</param>
/// <param name="Sphere">Whose time it takes.</param>
/// <param name="Busy">Whether no work can be done meanwhile.</param>
/// <param name="Rrule">How it recurs; null when it happens once.</param>
/// <param name="Except">Local dates of the rule on which it does not happen, in order.</param>
/// <param name="Place">Where; null when nobody said.</param>
/// <param name="Note">Anything else; null for nothing.</param>
/// <param name="Tags">In lower case, in order.</param>
/// <param name="NotedAt">When it was noted.</param>
/// <param name="ChangedAt">When it was last changed.</param>
/// <param name="RemovedAt">When it was removed; null while it stands.</param>
/// <param name="Occurrences">When it happens in the window asked for; null where no window was.</param>
internal sealed record AppointmentBody(
    Guid Id, string Title, LocalDate Date, LocalTime? Time, Duration Duration, string Zone, Sphere Sphere, bool Busy,
    string? Rrule, IReadOnlyList<LocalDate> Except, string? Place, string? Note, IReadOnlyList<string> Tags,
    Instant NotedAt, Instant ChangedAt, Instant? RemovedAt, IReadOnlyList<OccurrenceBody>? Occurrences) : ITagged;

/// <param name="Date">Its local date by the rule.</param>
/// <param name="StartsAt">UTC.</param>
/// <param name="EndsAt">UTC, excluded.</param>
internal sealed record OccurrenceBody(LocalDate Date, Instant StartsAt, Instant EndsAt);
