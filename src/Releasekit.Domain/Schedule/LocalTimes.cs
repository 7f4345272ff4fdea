using NodaTime.TimeZones;

namespace Releasekit.Domain.Schedule;

/// <summary>
/// The only place where a local time becomes an instant, with RFC 5545 section 3.3.5's two answers for daylight saving:
/// a local time that does not exist is read with the offset in force before the gap (02:30 becomes 03:30),
/// one that exists twice is the first of the two.
/// </summary>
public static class LocalTimes
{
    // NodaTime also makes zones of fixed offsets ("UTC+03"), which neither calendars nor the database know.
    private static readonly HashSet<string> Ids = [.. DateTimeZoneProviders.Tzdb.Ids];

    private static readonly ZoneLocalMappingResolver Rfc5545 =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnForwardShifted);

    /// <summary>The instant (UTC) at which clocks in <paramref name="zone"/> show <paramref name="local"/>.</summary>
    public static Instant ToInstant(LocalDateTime local, DateTimeZone zone) =>
        local.InZone(zone, Rfc5545).ToInstant();

    /// <summary>The zone of an IANA id (<c>Europe/Lisbon</c>; case matters); null when unknown.</summary>
    public static DateTimeZone? FindZone(string id) =>
        Ids.Contains(id) ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(id) : null;
}
