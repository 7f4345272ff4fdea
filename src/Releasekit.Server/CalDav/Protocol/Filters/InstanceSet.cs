using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// The instances of a component: those of its rule and dates that no other component changes, or the one that it
/// changes, with all later ones for RANGE=THISANDFUTURE (RFC 5545 section 3.8.4.4). EXRULE, which RFC 5545 has given
/// up, takes nothing away.
/// </summary>
internal sealed class InstanceSet
{
    private readonly RecurringComponent _component;
    private readonly CalendarTime _anchor;
    private readonly InstanceLength _length;
    private readonly DateTimeZone _floating;
    private readonly List<RecurringComponent> _changes;

    private InstanceSet(CalendarScope scope, RecurringComponent component, CalDateTime anchor)
    {
        (_component, _floating) = (component, scope.Floating);
        _anchor = CalendarTime.Of(anchor, _floating);
        _length = InstanceLength.Of(component, _anchor, _floating);
        _changes = [.. scope.Series.Where(one => one.RecurrenceIdentifier is not null)];
    }

    /// <summary>
    /// Whether an instance holds, of those that may lie in the range. Also true when there are too many to look at: a
    /// client can do with an item too many, not with one too few.
    /// </summary>
    /// <param name="reach">How far from an instance what is asked for may lie.</param>
    public static bool Any(
        CalendarScope scope, TimeRange range, NodaTime.Duration reach, Func<Instance, bool> holds) =>
        scope.Component is RecurringComponent component
        && (AnchorOf(component) is { } anchor
            ? new InstanceSet(scope, component, anchor).Near(scope, range, reach)
                .Any(instance => instance is not { } one || holds(one))
            : holds(new(null, null)));

    // A to-do that recurs without a start counts from when it is due.
    private static CalDateTime? AnchorOf(RecurringComponent component) =>
        component.DtStart ?? (component as Todo)?.Due;

    private IEnumerable<Instance?> Near(CalendarScope scope, TimeRange range, NodaTime.Duration reach)
    {
        var slack = reach + _length.AtMost;
        var (from, until) = (CalendarTime.Move(range.Start, -slack), CalendarTime.Move(range.End, slack));
        if (_component.RecurrenceIdentifier is not { } changed)
        {
            var named = new TimeSet(_changes.Select(IdOf));
            var handedOver = Later(_changes).Select(one => IdOf(one).Instant).DefaultIfEmpty(Instant.MaxValue).Min();
            return TimesFrom(from, until)
                .Where(one => one is null || !(named.Has(one.Time) || one.Time.Instant >= handedOver))
                .Select(one => one is null ? (Instance?)null : At(one.Time, one.End));
        }

        Instance? own = At(_anchor, null);
        return changed.Range is RecurrenceRange.ThisAndFuture ? FromHereOn(scope, until).Prepend(own) : [own];
    }

    private IEnumerable<Instance?> FromHereOn(CalendarScope scope, Instant until)
    {
        if (scope.Series.FirstOrDefault(one => one.RecurrenceIdentifier is null) is not { DtStart: { } start } master)
        {
            yield break;
        }

        var first = IdOf(_component);
        var next = Later(_changes).Select(one => IdOf(one).Instant).Where(id => id > first.Instant)
            .DefaultIfEmpty(Instant.MaxValue).Min();
        var named = new TimeSet(_changes.Select(IdOf));
        var shift = NodaTime.Period.Between(
            first.LocalIn(_anchor.Zone), _anchor.Local, PeriodUnits.Days | PeriodUnits.AllTimeUnits);
        var moved = _anchor.Instant - first.Instant;
        var last = CalendarTime.Move(until, moved < NodaTime.Duration.Zero ? -moved : moved);
        foreach (var one in new InstanceSet(scope, master, start).TimesFrom(Instant.MinValue, last))
        {
            if (one is null)
            {
                yield return null;
            }
            else if (one.Time.Instant > first.Instant && one.Time.Instant < next && !named.Has(one.Time))
            {
                yield return At(
                    new(one.Time.LocalIn(_anchor.Zone) + shift, _anchor.Zone, _anchor.IsDate), null);
            }
        }
    }

    private IEnumerable<GivenTime?> TimesFrom(Instant from, Instant until)
    {
        var excluded = new TimeSet(
            _component.ExceptionDates.GetAllDates().Select(date => CalendarTime.Of(date, _floating)));
        return Given().Concat(Ruled(from, until)).Where(one => one is null || !excluded.Has(one.Time));
    }

    private IEnumerable<GivenTime?> Given()
    {
        var periods = _component.RecurrenceDates.GetAllPeriods().Select(period =>
        {
            var start = CalendarTime.Of(period.StartTime, _floating);
            return new GivenTime(start, period switch
            {
                { EndTime: { } end } => CalendarTime.Of(end, _floating).Instant,
                { Duration: { } duration } => start.Plus(duration),
                _ => null,
            });
        });
        return _component.RecurrenceDates.GetAllDates()
            .Select(date => new GivenTime(CalendarTime.Of(date, _floating), null))
            .Concat(periods)
            .Prepend(new GivenTime(_anchor, null));
    }

    private IEnumerable<GivenTime?> Ruled(Instant from, Instant until) =>
        _component.Properties.Where(property => property.Name == "RRULE").SelectMany(property => property.Values)
            .OfType<RecurrenceRule>()
            .SelectMany(rule => Recurrence.TimesOf(rule, _anchor, from)
                .TakeWhile(time => time is null || time.Instant <= until)
                .Select(time => time is null ? null : new GivenTime(time, null)));

    private Instance At(CalendarTime time, Instant? end) =>
        _component.DtStart is null ? new(null, time.Instant) : new(time, end ?? _length.EndOf(time));

    private CalendarTime IdOf(RecurringComponent change) =>
        CalendarTime.Of(change.RecurrenceIdentifier!.StartTime, _floating);

    private static IEnumerable<RecurringComponent> Later(IEnumerable<RecurringComponent> changes) =>
        changes.Where(one => one.RecurrenceIdentifier!.Range is RecurrenceRange.ThisAndFuture);

    /// <summary>A time of the series, with an end if the time was given as a period.</summary>
    private sealed record GivenTime(CalendarTime Time, Instant? End);
}
