using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>Something that CalDAV serves at an address.</summary>
internal abstract record DavResource(Href Href);

/// <summary>The root, the context path, and the set of principals: ways in.</summary>
internal sealed record WayIn(Href Href) : DavResource(Href);

/// <summary>The person.</summary>
internal sealed record PrincipalPlace(Href Href) : DavResource(Href);

/// <summary>The home of all calendars.</summary>
internal sealed record HomePlace(Href Href) : DavResource(Href);

/// <summary>A calendar.</summary>
internal sealed record CalendarPlace(Href Href, CalendarCollection Collection, CollectionState State)
    : DavResource(Href);

/// <summary>An object in a calendar.</summary>
internal sealed record ItemPlace(Href Href, CalendarPlace Calendar, StoredObject Stored) : DavResource(Href);
