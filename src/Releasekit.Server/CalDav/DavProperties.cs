using System.Globalization;
using System.Text;
using System.Xml.Linq;
using Releasekit.Server.CalDav.Protocol;
using static Releasekit.Server.CalDav.Protocol.DavNames;

namespace Releasekit.Server.CalDav;

/// <summary>The properties of what CalDAV serves (RFC 4918, 3744, 4791, 5397, 6578).</summary>
internal sealed class DavProperties(DavScene scene)
{
    /// <summary>The largest object that is taken, in bytes.</summary>
    private const int LargestObject = 1 << 20;

    private static readonly XName[] Usual =
        [ResourceType, DisplayName, GetETag, GetContentType, GetContentLength, GetLastModified, CurrentUserPrincipal];

    private static readonly string[] Collations = ["i;ascii-casemap", "i;octet"];

    private static readonly XName[] Reports = [CalQuery, CalMultiget, DavNames.SyncCollection];

    /// <summary>What is asked for, each once; what is not there is said to be missing.</summary>
    public IEnumerable<PropAnswer> Of(DavResource resource, PropWish wish) => wish.Scope switch
    {
        PropScope.Named => wish.Names.Select(name => Of(resource, name)),
        PropScope.All => Usual.Concat(wish.Names).Distinct().Select(name => Of(resource, name))
            .Where(answer => answer.Status == StatusCodes.Status200OK || wish.Names.Contains(answer.Property.Name)),
        _ => Known.Select(name => Of(resource, name)).Where(answer => answer.Status == StatusCodes.Status200OK)
            .Select(answer => PropAnswer.Found(answer.Property.Name)),
    };

    private static readonly XName[] Known =
    [
        .. Usual, Owner, PrincipalUrl, PrincipalCollectionSet, CurrentUserPrivilegeSet, SupportedReportSet,
        DavNames.SyncToken, CollectionTag, CalHomeSet, CalSupportedComponents, CalSupportedData,
        CalSupportedCollations, CalMaxResourceSize,
    ];

    private PropAnswer Of(DavResource resource, XName name)
    {
        var content = ForAll(resource, name) ?? resource switch
        {
            PrincipalPlace => OfPrincipal(name),
            CalendarPlace calendar => OfCalendar(calendar, name),
            ItemPlace item => OfItem(item, name),
            _ => null,
        };

        return content is null ? PropAnswer.Missing(name) : PropAnswer.Found(name, content);
    }

    private object?[]? ForAll(DavResource resource, XName name) =>
        name == CurrentUserPrincipal ? [Principal] :
        name == ResourceType ? TypeOf(resource) :
        name == DisplayName ? NameOf(resource) is { } text ? [text] : null :
        name == CurrentUserPrivilegeSet ? [.. Privileges(resource).Select(one => new XElement(
            Privilege, new XElement(one)))] :
        name == Owner && resource is not WayIn ? [Principal] :
        name == PrincipalCollectionSet ? [Link(DavPlaces.PrincipalsSet)] :
        // Desktops look for it on every way in.
        name == CalHomeSet && resource is PrincipalPlace or HomePlace ? [Link(DavPlaces.Home(scene.Publisher.Id))] :
        null;

    private object?[]? OfPrincipal(XName name) =>
        name == PrincipalUrl ? [Principal] :
        name == SupportedReportSet ? [] :
        null;

    private static object?[]? OfCalendar(CalendarPlace calendar, XName name) =>
        name == DavNames.SyncToken || name == CollectionTag ? [calendar.State.Token] :
        name == SupportedReportSet ? [.. Reports.Select(report => new XElement(
            SupportedReport, new XElement(DavNames.Report, new XElement(report))))] :
        name == CalSupportedComponents ? [new XElement(
            CalComp, new XAttribute("name", calendar.Collection.Component))] :
        name == CalSupportedData ? [new XElement(
            CalData, new XAttribute("content-type", "text/calendar"), new XAttribute("version", "2.0"))] :
        name == CalSupportedCollations ? [.. Collations.Select(
            collation => new XElement(CalSupportedCollation, collation))] :
        name == CalMaxResourceSize ? [LargestObject.ToString(CultureInfo.InvariantCulture)] :
        null;

    private static object?[]? OfItem(ItemPlace item, XName name) =>
        name == GetETag ? [item.Stored.ETag] :
        name == GetContentType ? [ContentTypeOf(item)] :
        name == GetContentLength ? [item.Stored.Length.ToString(CultureInfo.InvariantCulture)] :
        name == GetLastModified ? [item.Stored.ChangedAt.ToDateTimeOffset().ToString(
            "R", CultureInfo.InvariantCulture)] :
        name == CalData && item.Stored.Body is { Length: > 0 } body ? [Encoding.UTF8.GetString(body)] :
        null;

    /// <summary>Of an object; it begins with text/calendar, as some clients skip everything else.</summary>
    public static string ContentTypeOf(ItemPlace item) =>
        $"text/calendar; charset=utf-8; component={item.Calendar.Collection.Component}";

    private static object?[] TypeOf(DavResource resource) => resource switch
    {
        PrincipalPlace => [new XElement(DavNames.Collection), new XElement(DavNames.Principal)],
        CalendarPlace => [new XElement(DavNames.Collection), new XElement(CalCalendar)],
        ItemPlace => [],
        _ => [new XElement(DavNames.Collection)],
    };

    private string? NameOf(DavResource resource) => resource switch
    {
        PrincipalPlace or HomePlace => scene.Publisher.Name,
        CalendarPlace calendar => calendar.Collection.Title,
        WayIn => "Releasekit",
        _ => null,
    };

    /// <summary>The cheapest way to refuse a write is to say beforehand that it is not allowed.</summary>
    private IEnumerable<XName> Privileges(DavResource resource)
    {
        yield return Read;
        yield return ReadPrivileges;

        var isTicked = resource is CalendarPlace { Collection.IsTicked: true }
            or ItemPlace { Calendar.Collection.IsTicked: true };

        if (scene.CanWrite && isTicked)
        {
            yield return WriteContent;
        }
    }

    private XElement Principal => Link(DavPlaces.Principal(scene.Publisher.Id));

    private static XElement Link(Href href) => new(DavNames.Href, href.ToString());
}
