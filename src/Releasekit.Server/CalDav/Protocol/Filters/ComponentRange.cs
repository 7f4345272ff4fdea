using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>Whether a component overlaps a range: the tables of RFC 4791 section 9.9.</summary>
internal static class ComponentRange
{
    public static bool Overlaps(CalendarScope scope, TimeRange range) => scope.Component switch
    {
        CalendarEvent or Journal => InstanceSet.Any(
            scope, range, NodaTime.Duration.Zero, instance => EventOverlaps(instance, range)),
        Todo todo => InstanceSet.Any(
            scope, range, NodaTime.Duration.Zero, instance => TodoOverlaps(todo, instance, scope.Floating, range)),
        FreeBusy freeBusy => FreeBusyOverlaps(freeBusy, scope.Floating, range),
        Alarm alarm => AlarmTriggers.Overlap(alarm, scope, range),
        _ => false,
    };

    // An end that is not after the start is against RFC 5545; it is taken for none.
    private static bool EventOverlaps(Instance instance, TimeRange range) =>
        (instance.Start?.Instant, instance.EffectiveEnd) switch
        {
            ({ } start, { } end) when end > start => range.Overlaps(start, end),
            ({ } start, _) => range.Holds(start),
            _ => false,
        };

    private static bool TodoOverlaps(Todo todo, Instance instance, DateTimeZone floating, TimeRange range)
    {
        var (from, to) = (range.Start, range.End);
        return (instance.Start?.Instant, instance.End) switch
        {
            ({ } start, { } due) when todo.Due is null => from <= due && (to > start || to >= due),
            ({ } start, { } due) => (from < due || from <= start) && (to > start || to >= due),
            ({ } start, null) => range.Holds(start),
            (null, { } due) => from < due && to >= due,
            _ => UndatedOverlaps(MomentOf(todo.Completed, floating), MomentOf(todo.Created, floating), range),
        };
    }

    private static bool UndatedOverlaps(Instant? completed, Instant? created, TimeRange range)
    {
        var (from, to) = (range.Start, range.End);
        return (completed, created) switch
        {
            ({ } done, { } made) => (from <= made || from <= done) && (to >= made || to >= done),
            ({ } done, null) => from <= done && to >= done,
            (null, { } made) => to > made,
            _ => true,
        };
    }

    // The calendar library does not keep periods that it reads; what is not known may overlap.
    private static bool FreeBusyOverlaps(FreeBusy freeBusy, DateTimeZone floating, TimeRange range) =>
        (MomentOf(freeBusy.DtStart, floating), MomentOf(freeBusy.DtEnd, floating)) is ({ } start, { } end)
            ? range.Start <= end && range.End > start
            : freeBusy.Properties.Where(property => property.Name == "FREEBUSY")
                .SelectMany(property => property.Values)
                .Any(value => value is not Ical.Net.DataTypes.Period period || PeriodOverlaps(period, floating, range));

    private static bool PeriodOverlaps(Ical.Net.DataTypes.Period period, DateTimeZone floating, TimeRange range)
    {
        var start = CalendarTime.Of(period.StartTime, floating);
        var end = period.EndTime is { } given ? CalendarTime.Of(given, floating).Instant
            : period.Duration is { } duration ? start.Plus(duration)
            : start.Instant;
        return range.Overlaps(start.Instant, end);
    }

    private static Instant? MomentOf(CalDateTime? time, DateTimeZone floating) =>
        time is null ? null : CalendarTime.Of(time, floating).Instant;
}
