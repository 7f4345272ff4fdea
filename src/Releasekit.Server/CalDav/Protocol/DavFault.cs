using System.Xml;
using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Why a request is refused (RFC 4918 s.16).</summary>
/// <param name="Status">The HTTP status of the answer, 400 and up.</param>
/// <param name="Condition">The condition that did not hold, the child of the <c>DAV:error</c> of the answer. Null for
/// an answer without body: a desktop client takes a 403 with an empty <c>DAV:error</c> for a rate limit.</param>
internal sealed record DavFault(int Status, XElement? Condition)
{
    /// <summary>The body cannot be read as what it should be.</summary>
    public static DavFault Malformed => new(StatusCodes.Status400BadRequest, null);

    /// <summary>The body is longer or has more parts than is read.</summary>
    public static DavFault TooLarge => new(StatusCodes.Status413PayloadTooLarge, null);

    /// <summary>More is asked for than one answer holds (RFC 4791 s.7.8, RFC 6578 s.3.6).</summary>
    public static DavFault TooMany =>
        new(StatusCodes.Status507InsufficientStorage, new(DavConditions.MatchesWithinLimits));

    /// <summary>The request, or the state before it, does not allow it, nor will it later.</summary>
    public static DavFault Forbidden(XName condition) => new(StatusCodes.Status403Forbidden, new(condition));

    /// <summary>A header such as If-Match did not hold.</summary>
    public static DavFault PreconditionFailed => new(StatusCodes.Status412PreconditionFailed, null);

    /// <summary>Another item bears the UID, or the item here another UID (RFC 4791 s.5.3.2.1).</summary>
    /// <param name="taken">Where the item with that UID is.</param>
    public static DavFault UidConflict(Href taken) => new(
        StatusCodes.Status409Conflict,
        new(DavConditions.NoUidConflict, new XElement(DavNames.Href, taken.ToString())));

    /// <summary>The person lacks a privilege (RFC 3744 s.7.1.1).</summary>
    public static DavFault NeedPrivileges(Href resource, XName privilege) => new(
        StatusCodes.Status403Forbidden,
        new(DavConditions.NeedPrivileges, new XElement(
            DavNames.Resource,
            new XElement(DavNames.Href, resource.ToString()),
            new XElement(DavNames.Privilege, new XElement(privilege)))));

    /// <summary>The body of the answer in UTF-8, empty if there is no condition to tell.</summary>
    public byte[] ToBytes()
    {
        if (Condition is null)
        {
            return [];
        }

        using var bytes = new MemoryStream();

        using (var writer = XmlWriter.Create(bytes, DavWriting.Settings))
        {
            DavWriting.Open(writer, DavNames.Error);
            DavWriting.Write(writer, Condition);
            writer.WriteEndElement();
        }

        return bytes.ToArray();
    }
}
