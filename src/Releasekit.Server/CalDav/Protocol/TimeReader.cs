using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The times of a component. A value is read by its form: what VALUE says is wrong often enough, and never needed.
/// </summary>
internal sealed class TimeReader(BodyZones zones)
{
    private const int MostLines = 500;
    private const int MostValues = 2_000;

    /// <summary>A property with one time; null when the component has none.</summary>
    /// <exception cref="BodyRefusedException">It is no time that is served, or there are two.</exception>
    public CalendarTime? One(TextPart part, string name) =>
        Single(part, name) is { } line ? Time(line.Value, line) : null;

    /// <summary>All times of all properties of a name.</summary>
    /// <exception cref="BodyRefusedException">One is no time that is served, or they are too many.</exception>
    public IReadOnlyList<CalendarTime> Many(TextPart part, string name)
    {
        var lines = part.All(name).Take(MostLines + 1).ToList();
        var values = lines.SelectMany(line => line.Value.Split(','), (line, value) => (line, value))
            .Take(MostValues + 1)
            .ToList();

        return lines.Count <= MostLines && values.Count <= MostValues
            ? [.. values.Select(one => Time(one.value.Split('/')[0], one.line))]
            : throw new BodyRefusedException(BodyFault.TooMany(
                $"{name} has more than {MostLines} lines or {MostValues} values."));
    }

    /// <summary>The time of DTSTART, or without one of DUE, on its own wall clock.</summary>
    public static LocalDateTime? Origin(TextPart part) =>
        (part.First("DTSTART") ?? part.First("DUE")) is { } line ? WallTimes.Read(line.Value.Trim()).Wall : null;

    /// <summary>
    /// A time after another: weeks and days by the calendar of its zone, the rest by the clock (RFC 5545, 3.3.6).
    /// </summary>
    /// <exception cref="BodyRefusedException">It is in no year that is served.</exception>
    public CalendarTime? After(TextPart part, string name, Period span)
    {
        var days = (span.Weeks * 7) + span.Days;
        var clock = Period.FromHours(span.Hours) + Period.FromMinutes(span.Minutes) + Period.FromSeconds(span.Seconds);
        if (Single(part, name) is not { } line)
        {
            return null;
        }

        var (wall, isDate, isUtc) = WallTimes.Read(line.Value.Trim());
        var moved = wall.PlusDays(days);
        WallTimes.Bound(moved + clock);

        return isDate ? new CalendarDay((moved + clock).Date)
            : Zone(line, isUtc) is { } zone ? Moment(moved, zone, clock.ToDuration())
            : new FloatingTime(moved + clock);
    }

    /// <exception cref="BodyRefusedException">There are two.</exception>
    public static CalendarLine? Single(TextPart part, string name)
    {
        var lines = part.All(name).Take(2).ToList();

        return lines.Count < 2
            ? lines.FirstOrDefault()
            : throw new BodyRefusedException(BodyFault.Malformed($"A {part.Name} has two of {name}."));
    }

    private CalendarTime Time(string value, CalendarLine line)
    {
        var (wall, isDate, isUtc) = WallTimes.Read(value.Trim());
        WallTimes.Bound(wall);

        return isDate ? new CalendarDay(wall.Date)
            : Zone(line, isUtc) is { } zone ? Moment(wall, zone, Duration.Zero)
            : new FloatingTime(wall);
    }

    private DateTimeZone? Zone(CalendarLine line, bool isUtc) =>
        isUtc ? DateTimeZone.Utc : line.Parameter("TZID") is { } id ? zones.Find(id) : null;

    private static CalendarMoment Moment(LocalDateTime wall, DateTimeZone zone, Duration later) => new(
        wall.InZone(zone, WallTimes.OfTheStandard).ToInstant() + later,
        zone is BodyZone || zone == DateTimeZone.Utc ? null : zone);
}
