using Ical.Net.CalendarComponents;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>A component where a filter looks at it: in its calendar, below its parent.</summary>
/// <param name="Parent">Null for the calendar itself.</param>
/// <param name="Floating">The zone in which dates and floating times are read.</param>
internal sealed record CalendarScope(CalendarComponent Component, CalendarScope? Parent, DateTimeZone Floating)
{
    /// <summary>What stands directly below.</summary>
    public IEnumerable<CalendarScope> Children =>
        Component.Children.OfType<CalendarComponent>().Select(child => new CalendarScope(child, this, Floating));

    /// <summary>
    /// The components of the same kind with the same UID, this one among them: a series and its changed instances.
    /// </summary>
    public IEnumerable<RecurringComponent> Series => Component is RecurringComponent one
        ? Parent?.Component.Children.OfType<RecurringComponent>().Where(
            other => other.Uid == one.Uid && other.Name == one.Name) ?? []
        : [];

    public bool IsNamed(string name) => name.Equals(Component.Name, StringComparison.OrdinalIgnoreCase);
}
