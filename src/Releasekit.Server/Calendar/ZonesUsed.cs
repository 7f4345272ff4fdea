namespace Releasekit.Server.Calendar;

/// <summary>The zones that written wall times use, each with the first and last such instant, ordered by id.</summary>
internal sealed class ZonesUsed
{
    private readonly SortedDictionary<string, (DateTimeZone Zone, Instant Earliest, Instant Latest)> _zones =
        new(StringComparer.Ordinal);

    public void Add(CalendarTime? time)
    {
        if (time is not CalendarMoment { Zone: { } zone, Wall: not null, At: var at })
        {
            return;
        }

        _zones[zone.Id] = _zones.TryGetValue(zone.Id, out var seen)
            ? (zone, Instant.Min(seen.Earliest, at), Instant.Max(seen.Latest, at))
            : (zone, at, at);
    }

    public void Write(ContentLines lines)
    {
        foreach (var (zone, earliest, latest) in _zones.Values)
        {
            TimeZoneComponent.Write(lines, zone, earliest, latest);
        }
    }
}
