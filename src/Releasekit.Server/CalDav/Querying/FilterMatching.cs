using NodaTime.Text;
using Releasekit.Domain.Schedule;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav.Querying;

/// <summary>
/// Whether an object that we serve matches a filter (RFC 4791 s.9.7 and 9.9). What we serve does not recur, and its
/// times are in UTC, in a zone of the tz database, or whole days.
/// </summary>
/// <param name="zone">In which whole days are meant.</param>
internal sealed class FilterMatching(DateTimeZone zone)
{
    private static readonly InstantPattern Utc = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");
    private static readonly LocalDateTimePattern Local =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss");

    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("uuuuMMdd");

    public bool Matches(TextPart calendar, ComponentFilter filter) =>
        !filter.IsMissing && filter.Range is null
        && filter.Properties.All(property => Matches(calendar, property))
        && filter.Components.All(inner => MatchesAny(calendar, inner));

    private bool MatchesAny(TextPart parent, ComponentFilter filter)
    {
        var parts = parent.Parts.Where(part => part.Name == filter.Name).ToArray();

        return filter.IsMissing ? parts.Length == 0 : parts.Any(part =>
            (filter.Range is not { } range || Overlaps(part, range))
            && filter.Properties.All(property => Matches(part, property))
            && filter.Components.All(inner => MatchesAny(part, inner)));
    }

    private bool Matches(TextPart part, PropertyFilter filter)
    {
        var lines = part.All(filter.Name).ToArray();

        return filter.IsMissing ? lines.Length == 0 : lines.Any(line =>
            (filter.Text?.Matches(TextValues.Unescape(line.Value)) ?? true)
            && (filter.Range is not { } range || TimeOf(line) is { } at && IsIn(range, at, at))
            && filter.Parameters.All(parameter => Matches(line, parameter)));
    }

    private static bool Matches(CalendarLine line, ParameterFilter filter)
    {
        var value = line.Parameter(filter.Name);

        return filter.IsMissing ? value is null : value is not null && (filter.Text?.Matches(value) ?? true);
    }

    private bool Overlaps(TextPart part, Interval range) => part.Name switch
    {
        "VEVENT" => EventOverlaps(part, range),
        "VTODO" => TodoOverlaps(part, range),
        _ => false,
    };

    /// <summary>The table of events: with an end, without one, a whole day.</summary>
    private bool EventOverlaps(TextPart part, Interval range)
    {
        if (part.First("DTSTART") is not { } begin || TimeOf(begin) is not { } start)
        {
            return false;
        }

        var end = part.First("DTEND") is { } line ? TimeOf(line)
            : IsDay(begin) ? start + Duration.FromDays(1)
            : start;

        return end == start ? IsIn(range, start, start) : Before(start, range) && After(end!.Value, range);
    }

    /// <summary>The table of to-dos, by which of their times are there.</summary>
    private bool TodoOverlaps(TextPart part, Interval range)
    {
        var (start, due) = (TimeOf(part, "DTSTART"), TimeOf(part, "DUE"));
        var (completed, created) = (TimeOf(part, "COMPLETED"), TimeOf(part, "CREATED"));

        return (start, due, completed, created) switch
        {
            ({ } from, { } to, _, _) => (StartsBy(range, to) || StartsAtOrBy(range, from))
                && (EndsAfter(range, from) || EndsAtOrAfter(range, to)),
            ({ } from, null, _, _) => StartsAtOrBy(range, from) && EndsAfter(range, from),
            (null, { } to, _, _) => StartsBy(range, to) && EndsAtOrAfter(range, to),
            (_, _, { } done, { } made) => (StartsAtOrBy(range, made) || StartsAtOrBy(range, done))
                && (EndsAtOrAfter(range, made) || EndsAtOrAfter(range, done)),
            (_, _, { } done, null) => StartsAtOrBy(range, done) && EndsAtOrAfter(range, done),
            (_, _, null, { } made) => EndsAfter(range, made),
            _ => true,
        };
    }

    private static bool StartsBy(Interval range, Instant at) => !range.HasStart || range.Start < at;

    private static bool StartsAtOrBy(Interval range, Instant at) => !range.HasStart || range.Start <= at;

    private static bool EndsAfter(Interval range, Instant at) => !range.HasEnd || range.End > at;

    private static bool EndsAtOrAfter(Interval range, Instant at) => !range.HasEnd || range.End >= at;

    private static bool Before(Instant start, Interval range) => !range.HasEnd || start < range.End;

    private static bool After(Instant end, Interval range) => !range.HasStart || end > range.Start;

    private static bool IsIn(Interval range, Instant from, Instant to) =>
        StartsAtOrBy(range, from) && EndsAfter(range, to);

    private Instant? TimeOf(TextPart part, string name) => part.First(name) is { } line ? TimeOf(line) : null;

    private static bool IsDay(CalendarLine line) => line.Value.Trim().Length == 8;

    private Instant? TimeOf(CalendarLine line)
    {
        var text = line.Value.Trim();

        return Utc.Parse(text) is { Success: true } instant ? instant.Value
            : Day.Parse(text) is { Success: true } day ? zone.AtStartOfDay(day.Value).ToInstant()
            : Local.Parse(text) is { Success: true } local
                ? LocalTimes.ToInstant(local.Value, LocalTimes.FindZone(line.Parameter("TZID") ?? "") ?? zone)
            : null;
    }
}
