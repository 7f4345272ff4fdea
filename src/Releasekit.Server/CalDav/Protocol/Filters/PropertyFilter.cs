using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>What is asked of one property of a component (RFC 4791 section 9.7.2).</summary>
/// <param name="Name">In capitals.</param>
/// <param name="IsNotDefined">Whether it must be absent; nothing else is asked then.</param>
/// <param name="Range">Asked of a date property only; never together with a text.</param>
internal sealed record PropertyFilter(
    string Name, bool IsNotDefined, TimeRange? Range, TextMatch? Text, IReadOnlyList<ParameterFilter> Parameters)
{
    public bool Matches(CalendarScope scope)
    {
        var named = scope.Component.Properties
            .Where(one => Name.Equals(one.Name, StringComparison.OrdinalIgnoreCase)).ToList();
        return IsNotDefined ? named.Count == 0
            : Range is null ? named.Any(one => MatchesText(one) && HasParameters(one))
            : InstanceValue(scope.Component) is { } value ? AnyInstance(scope, Range, named, value)
            : named.Any(one => HasParameters(one) && IsIn(Range, one, scope.Floating));
    }

    private bool MatchesText(ICalendarProperty property) => Text?.Matches(PropertyText.Of(property)) ?? true;

    private bool HasParameters(ICalendarProperty property) => Parameters.All(one => one.Matches(property));

    private static bool IsIn(TimeRange range, ICalendarProperty property, DateTimeZone floating) => property.Values
        .OfType<CalDateTime>().Any(time => range.Holds(CalendarTime.Of(time, floating).Instant));

    // Section 9.9: every instance counts, and an end may be given by the duration instead.
    private Func<Instance, Instant?>? InstanceValue(CalendarComponent component) => (component, Name) switch
    {
        (RecurringComponent, "DTSTART") => instance => instance.Start?.Instant,
        (CalendarEvent, "DTEND") or (Todo, "DUE") => instance => instance.End,
        _ => null,
    };

    private bool AnyInstance(
        CalendarScope scope, TimeRange range, List<ICalendarProperty> named, Func<Instance, Instant?> value) =>
        (named.Count == 0 ? Parameters.Count == 0 : named.Any(HasParameters))
        && InstanceSet.Any(
            scope, range, NodaTime.Duration.Zero, instance => value(instance) is { } moment && range.Holds(moment));
}
