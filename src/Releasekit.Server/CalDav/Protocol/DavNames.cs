using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The names of the protocol (RFC 4918, 3744, 3253, 5397, 6578, 4791 and two private namespaces that clients ask for).
/// A name stands in <c>DAV:</c>, unless it begins with Cal: then it stands in the namespace of RFC 4791.
/// </summary>
internal static class DavNames
{
    public static readonly XNamespace Dav = "DAV:";
    public static readonly XNamespace CalDav = "urn:ietf:params:xml:ns:caldav";
    public static readonly XNamespace CalendarServer = "http://calendarserver.org/ns/";
    public static readonly XNamespace AppleCalendar = "http://apple.com/ns/ical/";

    // Requests.
    public static readonly XName PropFind = Dav + "propfind";
    public static readonly XName PropertyUpdate = Dav + "propertyupdate";
    public static readonly XName SyncCollection = Dav + "sync-collection";
    public static readonly XName CalQuery = CalDav + "calendar-query";
    public static readonly XName CalMultiget = CalDav + "calendar-multiget";

    // Parts of requests.
    public static readonly XName AllProp = Dav + "allprop";
    public static readonly XName Include = Dav + "include";
    public static readonly XName PropName = Dav + "propname";
    public static readonly XName Set = Dav + "set";
    public static readonly XName Remove = Dav + "remove";
    public static readonly XName SyncLevel = Dav + "sync-level";
    public static readonly XName Limit = Dav + "limit";
    public static readonly XName MostResults = Dav + "nresults";
    public static readonly XName CalFilter = CalDav + "filter";
    public static readonly XName CalTimezone = CalDav + "timezone";
    public static readonly XName CalComp = CalDav + "comp";
    public static readonly XName CalAllComp = CalDav + "allcomp";
    public static readonly XName CalProp = CalDav + "prop";
    public static readonly XName CalAllProp = CalDav + "allprop";
    public static readonly XName CalExpand = CalDav + "expand";
    public static readonly XName CalLimitRecurrenceSet = CalDav + "limit-recurrence-set";

    // Answers.
    public static readonly XName MultiStatus = Dav + "multistatus";
    public static readonly XName Response = Dav + "response";
    public static readonly XName Href = Dav + "href";
    public static readonly XName PropStat = Dav + "propstat";
    public static readonly XName Prop = Dav + "prop";
    public static readonly XName Status = Dav + "status";
    public static readonly XName Error = Dav + "error";

    // Properties.
    public static readonly XName ResourceType = Dav + "resourcetype";
    public static readonly XName DisplayName = Dav + "displayname";
    public static readonly XName GetETag = Dav + "getetag";
    public static readonly XName GetContentType = Dav + "getcontenttype";
    public static readonly XName GetContentLength = Dav + "getcontentlength";
    public static readonly XName GetLastModified = Dav + "getlastmodified";
    public static readonly XName Owner = Dav + "owner";
    public static readonly XName PrincipalUrl = Dav + "principal-URL";
    public static readonly XName PrincipalCollectionSet = Dav + "principal-collection-set";
    public static readonly XName CurrentUserPrincipal = Dav + "current-user-principal";
    public static readonly XName CurrentUserPrivilegeSet = Dav + "current-user-privilege-set";
    public static readonly XName SupportedReportSet = Dav + "supported-report-set";
    public static readonly XName SyncToken = Dav + "sync-token";
    public static readonly XName CollectionTag = CalendarServer + "getctag";
    public static readonly XName CalData = CalDav + "calendar-data";
    public static readonly XName CalHomeSet = CalDav + "calendar-home-set";
    public static readonly XName CalUserAddressSet = CalDav + "calendar-user-address-set";
    public static readonly XName CalDescription = CalDav + "calendar-description";
    public static readonly XName CalCollectionTimezone = CalDav + "calendar-timezone";
    public static readonly XName CalSupportedComponents = CalDav + "supported-calendar-component-set";
    public static readonly XName CalSupportedData = CalDav + "supported-calendar-data";
    public static readonly XName CalSupportedCollations = CalDav + "supported-collation-set";
    public static readonly XName CalMaxResourceSize = CalDav + "max-resource-size";
    public static readonly XName CalScheduleTransparency = CalDav + "schedule-calendar-transp";
    public static readonly XName CalDefaultAlarmDate = CalDav + "default-alarm-vevent-date";
    public static readonly XName CalDefaultAlarmDateTime = CalDav + "default-alarm-vevent-datetime";
    public static readonly XName CalendarColor = AppleCalendar + "calendar-color";
    public static readonly XName CalendarOrder = AppleCalendar + "calendar-order";

    // Parts of properties.
    public static readonly XName Collection = Dav + "collection";
    public static readonly XName Principal = Dav + "principal";
    public static readonly XName Privilege = Dav + "privilege";
    public static readonly XName SupportedReport = Dav + "supported-report";
    public static readonly XName Report = Dav + "report";
    public static readonly XName Resource = Dav + "resource";
    public static readonly XName CalCalendar = CalDav + "calendar";
    public static readonly XName CalSupportedCollation = CalDav + "supported-collation";

    // Privileges.
    public static readonly XName Read = Dav + "read";
    public static readonly XName ReadPrivileges = Dav + "read-current-user-privilege-set";
    public static readonly XName Write = Dav + "write";
    public static readonly XName WriteContent = Dav + "write-content";
    public static readonly XName WriteProperties = Dav + "write-properties";
    public static readonly XName Bind = Dav + "bind";
    public static readonly XName Unbind = Dav + "unbind";
}
