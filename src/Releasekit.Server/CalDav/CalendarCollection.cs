using Releasekit.Domain.Schedule;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>What one kind of object a collection holds: calendar apps show one list for each kind.</summary>
internal enum ComponentsOf
{
    /// <summary>VEVENT.</summary>
    Events,

    /// <summary>VTODO.</summary>
    Todos,
}

/// <summary>A calendar as CalDAV shows it.</summary>
/// <param name="Key">Its last path segment; it never changes.</param>
/// <param name="Title">Unique in the home.</param>
/// <param name="IsTicked">Whether ticking an object of it means something here.</param>
internal sealed record CalendarCollection(string Key, string Title, ComponentsOf Components, bool IsTicked)
{
    private const string SeriesPrefix = "series-";

    /// <summary>Open stages of all releases, and those done of late.</summary>
    public static readonly CalendarCollection Stages = new("stages", "Stages", ComponentsOf.Todos, IsTicked: true);

    /// <summary>Tasks, open and done of late.</summary>
    public static readonly CalendarCollection Tasks = new("tasks", "Tasks", ComponentsOf.Todos, IsTicked: true);

    /// <summary>Started projects with their finish-by dates.</summary>
    public static readonly CalendarCollection Projects =
        new("projects", "Projects", ComponentsOf.Todos, IsTicked: false);

    /// <summary>The name of the component it holds.</summary>
    public string Component => Components is ComponentsOf.Events ? "VEVENT" : "VTODO";

    /// <summary>The slots and releases of a series.</summary>
    public static CalendarCollection Of(Series series) =>
        new(SeriesPrefix + series.Slug, series.Title, ComponentsOf.Events, IsTicked: false);

    /// <summary>The slug of the series it is for; null for the others.</summary>
    public string? Slug => Key.StartsWith(SeriesPrefix, StringComparison.Ordinal) ? Key[SeriesPrefix.Length..] : null;
}

/// <summary>Addresses of what CalDAV serves. The publisher's id is the opaque key of the person.</summary>
internal static class DavPlaces
{
    public const string Root = "dav";
    public const string Principals = "principals";
    public const string Calendars = "calendars";

    public static Href Context { get; } = Href.Of(isCollection: true, Root);

    public static Href PrincipalsSet { get; } = Href.Of(isCollection: true, Root, Principals);

    public static Href Principal(string publisher) => Href.Of(isCollection: true, Root, Principals, publisher);

    public static Href Home(string publisher) => Href.Of(isCollection: true, Root, Calendars, publisher);

    public static Href Calendar(string publisher, string collection) =>
        Href.Of(isCollection: true, Root, Calendars, publisher, collection);

    public static Href Item(string publisher, string collection, string name) =>
        Href.Of(isCollection: false, Root, Calendars, publisher, collection, name);
}
