using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The conditions that a refusal can name (RFC 4918 s.16, 3253 s.3.6, 3744, 6578 s.3.2, 4791).</summary>
internal static class DavConditions
{
    // RFC 4918, 3253, 3744 and 6578.
    public static readonly XName FinitePropFind = DavNames.Dav + "propfind-finite-depth";
    public static readonly XName ProtectedProperty = DavNames.Dav + "cannot-modify-protected-property";
    public static readonly XName ResourceMustBeNull = DavNames.Dav + "resource-must-be-null";
    public static readonly XName SupportedReport = DavNames.Dav + "supported-report";
    public static readonly XName NeedPrivileges = DavNames.Dav + "need-privileges";
    public static readonly XName ValidSyncToken = DavNames.Dav + "valid-sync-token";
    public static readonly XName SyncTraversalSupported = DavNames.Dav + "sync-traversal-supported";
    public static readonly XName MatchesWithinLimits = DavNames.Dav + "number-of-matches-within-limits";

    // RFC 4791 s.5.3: objects and collections.
    public static readonly XName CollectionLocation = DavNames.CalDav + "calendar-collection-location-ok";
    public static readonly XName SupportedData = DavNames.CalDav + "supported-calendar-data";
    public static readonly XName ValidData = DavNames.CalDav + "valid-calendar-data";
    public static readonly XName ValidObject = DavNames.CalDav + "valid-calendar-object-resource";
    public static readonly XName SupportedComponent = DavNames.CalDav + "supported-calendar-component";
    public static readonly XName NoUidConflict = DavNames.CalDav + "no-uid-conflict";
    public static readonly XName MaxResourceSize = DavNames.CalDav + "max-resource-size";
    public static readonly XName MinDateTime = DavNames.CalDav + "min-date-time";
    public static readonly XName MaxDateTime = DavNames.CalDav + "max-date-time";
    public static readonly XName MaxInstances = DavNames.CalDav + "max-instances";
    public static readonly XName MaxAttendees = DavNames.CalDav + "max-attendees-per-instance";

    // RFC 4791 s.7.8: queries.
    public static readonly XName ValidFilter = DavNames.CalDav + "valid-filter";
    public static readonly XName SupportedFilter = DavNames.CalDav + "supported-filter";
    public static readonly XName SupportedCollation = DavNames.CalDav + "supported-collation";
}
