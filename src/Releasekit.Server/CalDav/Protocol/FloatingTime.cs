using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// A wall time that names no zone (RFC 5545, 3.3.5, form 1): the same hour wherever one is. Of a collection it is read
/// in the zone of its person (RFC 4791, 7.3).
/// </summary>
internal sealed record FloatingTime(LocalDateTime Wall) : CalendarTime
{
    /// <summary>The moment in a zone; a wall time that clocks skip is moved on, of one they repeat it is the first.
    /// </summary>
    public CalendarMoment In(DateTimeZone zone) => new(Wall.InZone(zone, WallTimes.OfTheStandard).ToInstant(), zone);
}
