using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The body of a PROPFIND (RFC 4918 s.9.1).</summary>
internal sealed record PropFind(PropWish Wish)
{
    /// <param name="body">Null for an empty body, which asks for everything.</param>
    public static PropFind? TryRead(XElement? body, out DavFault? fault)
    {
        fault = null;

        if (body is null)
        {
            return new(PropWish.Everything);
        }

        var wish = body.Name == DavNames.PropFind ? PropWish.TryRead(body, out fault) : null;
        fault ??= wish is null ? DavFault.Malformed : null;

        return wish is null ? null : new(wish);
    }
}
