using Releasekit.Domain.Entries;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Work;

/// <summary>A fixed time in the diary, once or again and again.</summary>
/// <param name="Date">Its local date; of the first one when it recurs.</param>
public sealed record Appointment(Guid Id, string Title, LocalDate Date, Instant NotedAt) : Entry(Id, NotedAt)
{
    private const int MostExceptions = 1_000;
    private const int LongestPlace = 200;
    private static readonly Duration LongestLength = Duration.FromDays(366);

    /// <summary>Local time it begins; null: all day.</summary>
    public LocalTime? Time { get; init; }

    /// <summary>How long it takes; whole days of 24 hours when all day.</summary>
    public Duration Length { get; init; } = Duration.FromHours(1);

    /// <summary>IANA id of the zone its date and time are meant in.</summary>
    public string Zone { get; init; } = "Etc/UTC";

    /// <summary>Whose time it takes.</summary>
    public Sphere Sphere { get; init; }

    /// <summary>Whether no work can be done meanwhile.</summary>
    public bool IsBusy { get; init; }

    /// <summary>RFC 5545 rule of days; null when it happens once.</summary>
    public string? Rule { get; init; }

    /// <summary>Local dates of the rule on which it does not happen, in order.</summary>
    public IReadOnlyList<LocalDate> Except { get; init; } = [];

    /// <summary>Where.</summary>
    public string? Place { get; init; }

    /// <summary>Anything else.</summary>
    public string? Note { get; init; }

    /// <summary>When it happens, UTC, for all that overlap <paramref name="window"/>; in order.</summary>
    public IReadOnlyList<Occurrence> Within(Interval window)
    {
        var zone = LocalTimes.FindZone(Zone)!;
        var days = (int)Math.Ceiling(Length.TotalDays) + 1;
        var from = window.Start.InZone(zone).Date.PlusDays(-days);
        var to = window.End.InZone(zone).Date.PlusDays(1);

        return
        [
            .. DatesBetween(from, to)
                .Select(date => new Occurrence(date, TimeOn(date, zone)))
                .Where(occurrence => occurrence.Time.Start < window.End && occurrence.Time.End > window.Start),
        ];
    }

    /// <summary>Refuses with a fault for each thing that is wrong; null means acceptable.</summary>
    public Refusal? Check(Instant now) => EntryRules.Refuse(
    [
        .. EntryRules.FaultsOfLine(Title, "/title", "The title of an appointment"),
        .. FaultsOfTime(),
        .. EntryRules.FaultsOfRule(Rule, Date),
        .. Place is null ? [] : EntryRules.FaultsOfLine(Place, "/place", "A place", LongestPlace),
        .. EntryRules.FaultsOfNote(Note),
        .. EntryRules.FaultsOf(this, now),
    ]);

    private IEnumerable<LocalDate> DatesBetween(LocalDate from, LocalDate to) => Rule is null
        ? Date >= from && Date < to ? [Date] : []
        : CadenceRule.TryParse(Rule, Date, out _)!.Between(from, to).Except(Except);

    /// <summary>All day: from midnight to midnight, however long the days are.</summary>
    private Interval TimeOn(LocalDate date, DateTimeZone zone)
    {
        if (Time is { } time)
        {
            var start = LocalTimes.ToInstant(date.At(time), zone);
            return new(start, start + Length);
        }

        return new(
            zone.AtStartOfDay(date).ToInstant(), zone.AtStartOfDay(date.PlusDays(Length.Days)).ToInstant());
    }

    private IEnumerable<Fault> FaultsOfTime()
    {
        if (Date.Year is < 1970 or > 2199)
        {
            yield return new("/date", "A date from 1970 to 2199.");
        }

        if (LocalTimes.FindZone(Zone) is null)
        {
            yield return new("/zone", $"'{Zone}' is no time zone of the IANA database; write it like Europe/Lisbon.");
        }

        if (Length <= Duration.Zero || Length > LongestLength)
        {
            yield return new("/duration", "A duration from more than nothing to 366 days, such as PT1H30M.");
        }
        else if (Time is null && Length != Duration.FromDays(Length.Days))
        {
            yield return new("/duration", "Without a time it lasts whole days: P1D, P2D and so on.");
        }

        if (Except.Count > MostExceptions || (Except.Count > 0 && Rule is null))
        {
            yield return new("/except", $"Dates of the rule, {MostExceptions} at most; none without a rule.");
        }
    }
}

/// <summary>One time that an appointment happens.</summary>
/// <param name="Date">Its local date by the rule.</param>
/// <param name="Time">UTC, end excluded.</param>
public readonly record struct Occurrence(LocalDate Date, Interval Time);
