using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>What <see cref="PropWish.Names"/> means.</summary>
internal enum PropScope
{
    /// <summary>The values of these properties.</summary>
    Named,

    /// <summary>The values of the usual properties, and of these.</summary>
    All,

    /// <summary>The names of all properties, without values.</summary>
    NamesOnly,
}

/// <summary>
/// Which properties a PROPFIND or a report asks for (RFC 4918 s.14.20, RFC 4791 s.9.5 and 9.10, RFC 6578 s.6.1).
/// </summary>
/// <param name="Names">Each once, in the order in which they are asked for; also those that nobody knows.</param>
/// <param name="CalendarData">Set if calendar data is asked for, then what of it.</param>
internal sealed record PropWish(PropScope Scope, IReadOnlyList<XName> Names, CalendarDataWish? CalendarData)
{
    /// <summary>What a PROPFIND without a body asks for (RFC 4918 s.9.1).</summary>
    public static PropWish Everything { get; } = new(PropScope.All, [], null);

    /// <summary>What a report asks for that names no properties: the hrefs alone.</summary>
    public static PropWish Nothing { get; } = new(PropScope.Named, [], null);

    /// <summary>
    /// Reads the wish out of a request; elements that are not known are passed over (RFC 4918 s.17). Null with a fault
    /// if there are two that exclude each other (s.A.3), and null without if there is none.
    /// </summary>
    public static PropWish? TryRead(XElement request, out DavFault? fault)
    {
        XElement[] wishes = [.. request.Elements().Where(element =>
            element.Name == DavNames.AllProp || element.Name == DavNames.PropName || element.Name == DavNames.Prop)];

        fault = wishes.Length > 1 ? DavFault.Malformed : null;

        if (wishes is not [var wish])
        {
            return null;
        }

        XElement[] named = wish.Name == DavNames.Prop ? [.. wish.Elements()]
            : wish.Name == DavNames.AllProp ? [.. request.Elements(DavNames.Include).Elements()]
            : [];
        var data = named.FirstOrDefault(element => element.Name == DavNames.CalData) is { } asked
            ? CalendarDataWish.TryRead(asked, out fault)
            : null;
        var scope = wish.Name == DavNames.Prop ? PropScope.Named
            : wish.Name == DavNames.AllProp ? PropScope.All
            : PropScope.NamesOnly;

        return fault is null ? new(scope, [.. named.Select(element => element.Name).Distinct()], data) : null;
    }
}
