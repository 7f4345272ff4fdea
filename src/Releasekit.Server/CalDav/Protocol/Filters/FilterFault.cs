using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>Why a filter is refused: the status, and the precondition to name in the <c>DAV:error</c> body.</summary>
/// <param name="Status">Always 403: the same request fails again (RFC 4791 section 1.3).</param>
/// <param name="Condition"><c>CALDAV:valid-filter</c> or <c>CALDAV:supported-collation</c> (section 7.8).</param>
internal sealed record FilterFault(int Status, XName Condition)
{
    public static readonly FilterFault NotValid = new(403, FilterNames.CalDav + "valid-filter");
    public static readonly FilterFault UnknownCollation = new(403, FilterNames.CalDav + "supported-collation");
}
