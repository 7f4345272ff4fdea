using NodaTime.TimeZones;

namespace Releasekit.Server.Calendar;

/// <summary>
/// A VTIMEZONE that is right from the first to the last instant a calendar uses, both included; before and after
/// it claims nothing. Changes alike in name and offsets share one observance, the later ones as RDATE. There
/// is no RRULE: a zone's rule may end any year (Africa/Casablanca has none), and a reader exists (python3-icalendar 4)
/// that takes the UTC time of UNTIL for a wall time, and so may lose the last change.
/// </summary>
internal static class TimeZoneComponent
{
    public static void Write(ContentLines lines, DateTimeZone zone, Instant earliest, Instant latest)
    {
        lines.Begin("VTIMEZONE");
        lines.Name("TZID").Text(zone.Id);
        foreach (var onsets in Changes(zone, earliest, latest).GroupBy(change => change.Kind, change => change.Onset))
        {
            Write(lines, onsets.Key, onsets.ToArray());
        }

        lines.End("VTIMEZONE");
    }

    private static void Write(ContentLines lines, Observance kind, LocalDateTime[] onsets)
    {
        var component = kind.IsDaylight ? "DAYLIGHT" : "STANDARD";
        lines.Begin(component);
        lines.Name("DTSTART").Wall(onsets[0]);
        if (onsets.Length > 1)
        {
            lines.Name("RDATE").Wall(onsets.AsSpan(1));
        }

        lines.Text("TZNAME", kind.Name);
        lines.Offset("TZOFFSETFROM", kind.From);
        lines.Offset("TZOFFSETTO", kind.To);
        lines.End(component);
    }

    private static IEnumerable<(Observance Kind, LocalDateTime Onset)> Changes(
        DateTimeZone zone, Instant earliest, Instant latest)
    {
        // Long-standing offsets begin in 1970 rather than at a change of another age, with its odd seconds.
        var floor = Instant.Min(earliest, NodaConstants.UnixEpoch);
        foreach (var interval in zone.GetZoneIntervals(FirstNeeded(zone, earliest, floor), latest + Duration.Epsilon))
        {
            var (from, onset) = interval.HasStart && interval.Start > floor
                ? (Before(zone, interval), interval.Start)
                : (interval, floor);
            yield return (
                new(interval.Name, from.WallOffset, interval.WallOffset, IsDaylight(interval, from)),
                onset.WithOffset(from.WallOffset).LocalDateTime);
        }
    }

    // A description that knows summer time only is legal, but python3-icalendar 4 refuses it.
    private static Instant FirstNeeded(DateTimeZone zone, Instant earliest, Instant floor)
    {
        var first = zone.GetZoneInterval(earliest);
        return first.HasStart && first.Start > floor && IsDaylight(first, Before(zone, first))
            ? first.Start - Duration.Epsilon
            : earliest;
    }

    private static ZoneInterval Before(DateTimeZone zone, ZoneInterval interval) =>
        zone.GetZoneInterval(interval.Start - Duration.Epsilon);

    // Where the law calls winter the exception (Dublin, Casablanca's Ramadan), readers still expect the later clock
    // to be the daylight one.
    private static bool IsDaylight(ZoneInterval interval, ZoneInterval before) =>
        interval.Savings > Offset.Zero || (interval.Savings == Offset.Zero && before.Savings < Offset.Zero);

    /// <summary>What changes must share to be one observance.</summary>
    private sealed record Observance(string Name, Offset From, Offset To, bool IsDaylight);
}
