using System.Text;
using System.Xml.Linq;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.CalDav.Protocol;
using Releasekit.Server.CalDav.Ticking;

namespace Releasekit.Server.CalDav;

/// <summary>
/// PUT of a to-do: its tick is taken for what it means, everything else is the server's. Answered without an ETag
/// unless the bytes are those that are served, so that the client reads again; also what was refused is served anew, as
/// a client that learns nothing sends it for ever.
/// </summary>
internal static class PutObject
{
    public static async Task Handle(HttpContext http)
    {
        var cancel = http.RequestAborted;
        var scene = await DavScene.Load(http, cancel);
        var href = Href.TryParse(http.Request.Path.Value ?? "/") ?? DavPlaces.Context;
        var found = await scene.Find(href, cancel);

        if (found is not ItemPlace { Calendar.Collection.IsTicked: true } item || !scene.CanWrite)
        {
            await Refuse(http, scene, href, found, cancel);
            return;
        }

        if (!Preconditions.Hold(http.Request, item.Stored.ETag))
        {
            await DavBodies.Write(http, DavFault.PreconditionFailed);
            return;
        }

        using var buffer = new MemoryStream();
        await http.Request.Body.CopyToAsync(buffer, cancel);
        var sent = buffer.ToArray();

        if (await Read(http, item, sent) is { } todo)
        {
            await Take(http, scene, item, sent, todo);
        }
    }

    /// <summary>The to-do; null when the body is none, which is answered then.</summary>
    private static async Task<TextPart?> Read(HttpContext http, ItemPlace item, byte[] sent)
    {
        var wanted = item.Calendar.Collection.Components is ComponentsOf.Events
            ? ComponentKind.Event
            : ComponentKind.Todo;
        var body = CalendarBody.TryRead(sent, http.Request.ContentType, wanted, out var broken);
        var fault = broken is not null
            ? new DavFault(broken.Status, new XElement(DavNames.CalDav + broken.Condition))
            : body!.Uid != item.Stored.Uid ? DavFault.UidConflict(item.Href)
            : null;

        if (fault is not null)
        {
            await DavBodies.Write(http, fault);
            return null;
        }

        return body!.Text.Main;
    }

    private static async Task Take(HttpContext http, DavScene scene, ItemPlace item, byte[] sent, TextPart todo)
    {
        var cancel = http.RequestAborted;
        var services = http.RequestServices;
        var served = CalendarText.TryRead(Encoding.UTF8.GetString(item.Stored.Body!), out _)!.Main!;
        var after = TodoSigns.Read(todo);
        var deed = Ticks.Decide(TodoSigns.Read(served), after);
        var problem = await services.GetRequiredService<TickWriting>()
            .Do(scene.Publisher.Id, item, deed, after, cancel);

        if (problem is not null)
        {
            await services.GetRequiredService<CalendarNotices>().Keep(scene.Publisher.Id, item, problem, cancel);
        }

        await services.GetRequiredService<ObjectRefresh>().Run(scene.Publisher.Id, cancel);
        var now = await scene.Item(item.Calendar, item.Stored.Name, cancel);

        if (now is not null && now.Stored.Body.AsSpan().SequenceEqual(sent))
        {
            http.Response.Headers.ETag = now.Stored.ETag;
        }
        else if (now is not null && now.Stored.Revision == item.Stored.Revision)
        {
            await services.GetRequiredService<ObjectReading>()
                .ServeAnew(scene.Publisher.Id, item.Calendar.Collection.Key, item.Stored.Name, cancel);
        }

        http.Response.StatusCode = StatusCodes.Status204NoContent;
    }

    /// <summary>What is not advertised is refused for want of a privilege, and what is there is served anew.</summary>
    private static async Task Refuse(
        HttpContext http, DavScene scene, Href href, DavResource? found, CancellationToken cancel)
    {
        if (found is ItemPlace item)
        {
            await scene.Objects.ServeAnew(
                scene.Publisher.Id, item.Calendar.Collection.Key, item.Stored.Name, cancel);
        }

        await DavBodies.Write(
            http, DavFault.NeedPrivileges(href, found is null ? DavNames.Bind : DavNames.WriteContent));
    }
}

/// <summary>If-Match and If-None-Match of a write (RFC 9110, 13.1).</summary>
internal static class Preconditions
{
    public static bool Hold(HttpRequest request, string etag)
    {
        var headers = request.GetTypedHeaders();
        var isMatched = headers.IfMatch is not { Count: > 0 } wanted
            || wanted.Any(tag => tag.Equals(Microsoft.Net.Http.Headers.EntityTagHeaderValue.Any)
                || (!tag.IsWeak && tag.Tag == etag));
        var isExcluded = headers.IfNoneMatch is { Count: > 0 } unwanted
            && unwanted.Any(tag => tag.Equals(Microsoft.Net.Http.Headers.EntityTagHeaderValue.Any) || tag.Tag == etag);

        return isMatched && !isExcluded;
    }
}
