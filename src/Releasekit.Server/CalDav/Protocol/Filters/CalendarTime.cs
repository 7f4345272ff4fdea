using Ical.Net.DataTypes;
using NodaTime.TimeZones;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// A DATE or DATE-TIME of a calendar, on the wall clock of its zone. A zone is known by its name; one that has no
/// known name keeps the offset that the calendar library finds for this very time.
/// </summary>
/// <param name="Zone">For a DATE and a floating time the zone of whoever asks.</param>
/// <param name="IsDate">Whether it stands for a whole day, which begins with the first moment of the day.</param>
internal sealed record CalendarTime(LocalDateTime Local, DateTimeZone Zone, bool IsDate)
{
    // RFC 5545 section 3.3.5: the first of a repeated time; a skipped time counts with the offset before the gap.
    private static readonly ZoneLocalMappingResolver Resolver = Resolvers.CreateMappingResolver(
        Resolvers.ReturnEarlier, Resolvers.ReturnForwardShifted);

    /// <summary>The moment, or the first moment of the day.</summary>
    public Instant Instant { get; } = Resolve(Local, Zone, IsDate);

    public static CalendarTime Of(CalDateTime time, DateTimeZone floating)
    {
        var local = LocalDateTime.FromDateTime(time.Value);
        return time switch
        {
            { HasTime: false } => new(local, floating, true),
            { IsUtc: true } => new(local, DateTimeZone.Utc, false),
            { IsFloating: true } => new(local, floating, false),
            _ => new(local, ZoneOf(time, local), false),
        };
    }

    /// <summary>The same moment on another zone's wall clock; a day stays the day that it is.</summary>
    public LocalDateTime LocalIn(DateTimeZone zone) => IsDate ? Local : Instant.InZone(zone).LocalDateTime;

    /// <summary>
    /// The moment after a duration: its weeks and days on the wall clock, the rest as time that passes (RFC 5545
    /// section 3.3.6). The last or first moment there is when the calendar ends before that.
    /// </summary>
    public Instant Plus(Ical.Net.DataTypes.Duration duration)
    {
        try
        {
            var days = ((duration.Weeks ?? 0) * 7L) + (duration.Days ?? 0);
            var time = NodaTime.Duration.FromHours(duration.Hours ?? 0)
                + NodaTime.Duration.FromMinutes(duration.Minutes ?? 0)
                + NodaTime.Duration.FromSeconds(duration.Seconds ?? 0);
            return Move(Resolve(Local.PlusDays(checked((int)days)), Zone, IsDate), time);
        }
        catch (Exception fault) when (fault is OverflowException or ArgumentOutOfRangeException)
        {
            return duration.Sign < 0 ? Instant.MinValue : Instant.MaxValue;
        }
    }

    /// <summary>A moment moved by time that passes, no further than the first or the last moment there is.</summary>
    public static Instant Move(Instant moment, NodaTime.Duration by)
    {
        try
        {
            return moment + by;
        }
        catch (OverflowException)
        {
            return by < NodaTime.Duration.Zero ? Instant.MinValue : Instant.MaxValue;
        }
    }

    private static Instant Resolve(LocalDateTime local, DateTimeZone zone, bool isDate)
    {
        try
        {
            return isDate
                ? zone.AtStartOfDay(local.Date).ToInstant()
                : zone.ResolveLocal(local, Resolver).ToInstant();
        }
        catch (OverflowException)
        {
            // The last hours of the year 9999, west of Greenwich.
            return Instant.MaxValue;
        }
    }

    private static DateTimeZone ZoneOf(CalDateTime time, LocalDateTime local) =>
        DateTimeZoneProviders.Tzdb.GetZoneOrNull(time.TzId!)
        ?? (TzdbDateTimeZoneSource.Default.WindowsToTzdbIds.TryGetValue(time.TzId!, out var id)
            ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(id)
            : null)
        ?? DateTimeZone.ForOffset(Offset.FromTicks(
            (local - LocalDateTime.FromDateTime(time.AsUtc)).ToDuration().BclCompatibleTicks));
}
