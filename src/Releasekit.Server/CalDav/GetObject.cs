using System.Globalization;
using Releasekit.Server.CalDav.Protocol;
using Releasekit.Server.Http;

namespace Releasekit.Server.CalDav;

/// <summary>GET and HEAD of an object.</summary>
internal static class GetObject
{
    public static async Task Handle(HttpContext http)
    {
        var cancel = http.RequestAborted;
        var scene = await DavScene.Load(http, cancel);
        var found = await scene.Find(http);

        if (found is not ItemPlace item)
        {
            // A calendar is no document; its objects are.
            await DavBodies.Write(http, new DavFault(
                found is null ? StatusCodes.Status404NotFound : StatusCodes.Status405MethodNotAllowed, null));
            return;
        }

        http.Response.Headers.LastModified =
            item.Stored.ChangedAt.ToDateTimeOffset().ToString("R", CultureInfo.InvariantCulture);

        if (ETags.IsUnchanged(http, item.Stored.ETag))
        {
            http.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        http.Response.ContentType = DavProperties.ContentTypeOf(item);
        http.Response.ContentLength = item.Stored.Length;

        if (!HttpMethods.IsHead(http.Request.Method))
        {
            await http.Response.Body.WriteAsync(item.Stored.Body!, cancel);
        }
    }
}
