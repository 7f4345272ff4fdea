using System.Xml.Linq;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>Reads and writes the bodies of CalDAV.</summary>
internal static class DavBodies
{
    private const string Xml = "application/xml; charset=utf-8";

    /// <summary>The body as XML; null for none, and for one that cannot be read, which is answered then.</summary>
    public static async Task<(XElement? Body, bool IsAnswered)> Read(HttpContext http)
    {
        using var buffer = new MemoryStream();
        await http.Request.Body.CopyToAsync(buffer, http.RequestAborted);
        var body = DavXml.TryRead(buffer.ToArray(), out var fault);

        if (fault is not null)
        {
            await Write(http, fault);
        }

        return (body, fault is not null);
    }

    /// <summary>Answers with a refusal and the condition that did not hold.</summary>
    public static async Task Write(HttpContext http, DavFault fault)
    {
        var body = fault.ToBytes();
        http.Response.StatusCode = fault.Status;

        if (body.Length > 0)
        {
            http.Response.ContentType = Xml;
            await http.Response.Body.WriteAsync(body, http.RequestAborted);
        }
    }

    /// <summary>Begins a 207.</summary>
    public static MultiStatus Begin(HttpContext http)
    {
        http.Response.StatusCode = StatusCodes.Status207MultiStatus;
        http.Response.ContentType = Xml;
        http.Response.Headers["DAV"] = "1, 3, calendar-access";

        return new(
            http.Response.Body,
            ReturnPreference.IsMinimal(http.Request.Headers["Prefer"], http.Request.Headers["Brief"]));
    }

    public static Task NotFound(HttpContext http) =>
        Write(http, new DavFault(StatusCodes.Status404NotFound, null));
}
