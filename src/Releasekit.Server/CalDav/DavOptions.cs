using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>OPTIONS, and what is not offered.</summary>
internal static class DavOptions
{
    private const string Allowed = "OPTIONS, PROPFIND, REPORT, GET, HEAD, PUT, PROPPATCH";

    public static IResult Answer(HttpContext http)
    {
        http.Response.Headers["DAV"] = "1, 3, calendar-access";
        http.Response.Headers.Allow = Allowed;

        return TypedResults.Ok();
    }

    /// <summary>
    /// New collections have no place here (RFC 4791, 5.3.1.2), and what exists is ours: what was not advertised is
    /// refused for want of a privilege.
    /// </summary>
    public static async Task Refuse(HttpContext http)
    {
        var href = Href.TryParse(http.Request.Path.Value ?? "/") ?? DavPlaces.Context;
        var fault = http.Request.Method switch
        {
            "MKCALENDAR" or "MKCOL" => DavFault.Forbidden(DavConditions.CollectionLocation),
            "DELETE" => DavFault.NeedPrivileges(href, DavNames.Unbind),
            _ => new DavFault(StatusCodes.Status405MethodNotAllowed, null),
        };

        http.Response.Headers.Allow = Allowed;
        await DavBodies.Write(http, fault);
    }
}
