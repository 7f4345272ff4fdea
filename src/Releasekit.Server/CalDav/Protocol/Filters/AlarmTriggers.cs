using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// When an alarm goes off (RFC 5545 section 3.8.6, RFC 4791 section 9.9): once for each instance of what it belongs to,
/// or at one moment, and after that as often as it repeats.
/// </summary>
internal static class AlarmTriggers
{
    // Twice as long as a calendar is; keeps sums of anything that a file may say within what can be counted.
    private const double MostSeconds = 6.3e11;

    public static bool Overlap(Alarm alarm, CalendarScope scope, TimeRange range)
    {
        if (alarm.Trigger is not { } trigger || scope.Parent is not { } parent)
        {
            return false;
        }

        var (step, repeats) = (SecondsOf(alarm.Duration ?? default), Math.Max(0, alarm.Repeat));
        if (trigger.DateTime is { } moment)
        {
            return AnyHeld(CalendarTime.Of(moment, scope.Floating).Instant, step, repeats, range);
        }

        var offset = trigger.Duration ?? default;
        var reach = Math.Abs(SecondsOf(offset)) + Math.Min(MostSeconds, Math.Abs((double)step) * repeats);
        return InstanceSet.Any(
            parent, range, NodaTime.Duration.FromSeconds(Math.Min(MostSeconds, reach)),
            instance => OriginOf(instance, trigger, scope.Floating) is { } origin
                && AnyHeld(origin.Plus(offset), step, repeats, range));
    }

    // A to-do without a start counts from when it is due, as that of RFC 4791 section 7.8.5 does.
    private static CalendarTime? OriginOf(Instance instance, Trigger trigger, DateTimeZone floating) =>
        (trigger.Related == "END" || instance.Start is null) && instance.EffectiveEnd is { } end
            ? AsTime(end, instance.Start?.Zone ?? floating)
            : instance.Start;

    private static CalendarTime AsTime(Instant moment, DateTimeZone zone) =>
        new(moment.InZone(zone).LocalDateTime, zone, false);

    private static bool AnyHeld(Instant first, long step, int repeats, TimeRange range)
    {
        if (range.Holds(first) || first >= range.End || step <= 0)
        {
            return range.Holds(first);
        }

        var times = (long)Math.Ceiling((range.Start - first).TotalSeconds / step);
        return times <= repeats
            && range.Holds(CalendarTime.Move(first, NodaTime.Duration.FromSeconds(times * step)));
    }

    private static long SecondsOf(Ical.Net.DataTypes.Duration duration)
    {
        var days = ((duration.Weeks ?? 0) * 7L) + (duration.Days ?? 0);
        var seconds = (days * 86_400) + ((duration.Hours ?? 0) * 3_600L) + ((duration.Minutes ?? 0) * 60L)
            + (duration.Seconds ?? 0);
        return Math.Clamp(seconds, -(long)MostSeconds, (long)MostSeconds);
    }
}
