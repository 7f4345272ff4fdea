using System.Text;
using System.Xml.Linq;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.CalDav.Protocol;
using Releasekit.Server.CalDav.Protocol.Filters;

namespace Releasekit.Server.CalDav;

/// <summary>
/// REPORT on a calendar: calendar-query and calendar-multiget (RFC 4791, 7.8 and 7.9), sync-collection (RFC 6578).
/// </summary>
internal static class Report
{
    /// <summary>So many changes at most stand in one answer.</summary>
    private const int MostChanges = 5_000;

    public static async Task Handle(HttpContext http)
    {
        var (body, isAnswered) = await DavBodies.Read(http);

        if (isAnswered)
        {
            return;
        }

        var scene = await DavScene.Load(http, http.RequestAborted);
        var found = await scene.Find(http);

        if (found is null)
        {
            await DavBodies.NotFound(http);
            return;
        }

        await ((found, body?.Name) switch
        {
            (CalendarPlace calendar, { } name) when name == DavNames.CalMultiget => Get(http, scene, calendar, body!),
            (CalendarPlace calendar, { } name) when name == DavNames.CalQuery => Query(http, scene, calendar, body!),
            (CalendarPlace calendar, { } name) when name == DavNames.SyncCollection =>
                Sync(http, scene, calendar, body!),
            _ => DavBodies.Write(http, DavFault.Forbidden(DavConditions.SupportedReport)),
        });
    }

    /// <summary>One answer for each address, in its own words; what is not there, or another's, is not found.</summary>
    private static async Task Get(HttpContext http, DavScene scene, CalendarPlace calendar, XElement body)
    {
        var cancel = http.RequestAborted;

        if (Multiget.TryRead(body, out var fault) is not { } asked)
        {
            await DavBodies.Write(http, fault!);
            return;
        }

        var names = asked.Hrefs.Select(href => (Sent: href, Name: NameOf(calendar, href))).ToArray();
        string[] wanted = [.. names.Select(one => one.Name).OfType<string>()];
        var stored = (await scene.Objects.Named(scene.Publisher.Id, calendar.Collection.Key, wanted, cancel))
            .ToDictionary(one => one.Name, StringComparer.Ordinal);
        var properties = new DavProperties(scene);
        using var answer = DavBodies.Begin(http);

        foreach (var (sent, name) in names)
        {
            await (name is not null && stored.TryGetValue(name, out var found)
                ? Tell(answer, properties, scene.Item(calendar, found), asked.Wish, cancel)
                : answer.Response(sent, StatusCodes.Status404NotFound, cancel));
        }

        await answer.End(cancel);
    }

    /// <summary>The members that match, whatever the depth; none is no fault.</summary>
    private static async Task Query(HttpContext http, DavScene scene, CalendarPlace calendar, XElement body)
    {
        var cancel = http.RequestAborted;
        var asked = CalendarQuery.TryRead(body, out var fault);
        FilterFault? unfit = null;
        var filter = asked is null ? null : CalendarFilter.TryRead(asked.Filter, out unfit);

        if (asked is null || filter is null)
        {
            await DavBodies.Write(http, fault ?? new DavFault(unfit!.Status, new XElement(unfit.Condition)));
            return;
        }

        var zone = DateTimeZoneProviders.Tzdb[scene.Publisher.Zone];
        var properties = new DavProperties(scene);
        using var answer = DavBodies.Begin(http);

        foreach (var stored in await scene.Objects.All(
            scene.Publisher.Id, calendar.Collection.Key, withBodies: true, cancel))
        {
            if (filter.Matches(Ical.Net.Calendar.Load(Encoding.UTF8.GetString(stored.Body!))!, zone))
            {
                await Tell(answer, properties, scene.Item(calendar, stored), asked.Wish, cancel);
            }
        }

        await answer.End(cancel);
    }

    /// <summary>What changed since a token, by revision; what is gone, also what came and went in between, as
    /// 404.</summary>
    private static async Task Sync(HttpContext http, DavScene scene, CalendarPlace calendar, XElement body)
    {
        var cancel = http.RequestAborted;

        if (SyncCollection.TryRead(body, out var fault) is not { } asked)
        {
            await DavBodies.Write(http, fault!);
            return;
        }

        var since = asked.Token is null ? 0 : calendar.State.RevisionOf(asked.Token);

        if (since is null)
        {
            await DavBodies.Write(http, DavFault.Forbidden(DavConditions.ValidSyncToken));
            return;
        }

        var most = Math.Min(asked.Limit ?? MostChanges, MostChanges);
        var changes = await scene.Objects.ChangedAfter(
            scene.Publisher.Id, calendar.Collection.Key, since.Value, asked.Wish.CalendarData is not null, most + 1,
            cancel);
        await Sync(http, scene, calendar, asked, [.. changes.Take(most)], isCut: changes.Count > most);
    }

    private static async Task Sync(
        HttpContext http, DavScene scene, CalendarPlace calendar, SyncCollection asked,
        IReadOnlyList<StoredObject> changes, bool isCut)
    {
        var cancel = http.RequestAborted;
        var properties = new DavProperties(scene);
        using var answer = DavBodies.Begin(http);

        // Without a token everything is new, and nothing can be gone.
        foreach (var change in changes.Where(change => change.Body is not null || asked.Token is not null))
        {
            var item = scene.Item(calendar, change);
            await (change.Body is null
                ? answer.Response(item.Href.ToString(), StatusCodes.Status404NotFound, cancel)
                : Tell(answer, properties, item, asked.Wish, cancel));
        }

        if (isCut)
        {
            await answer.Truncated(calendar.Href, cancel);
        }

        var known = isCut && changes.Count > 0 ? changes[^1].Revision : calendar.State.Revision;
        await answer.End(cancel, (calendar.State with { Revision = known }).Token);
    }

    private static Task Tell(
        MultiStatus answer, DavProperties properties, ItemPlace item, PropWish wish, CancellationToken cancel) =>
        answer.Response(item.Href.ToString(), properties.Of(item, wish), cancel);

    private static string? NameOf(CalendarPlace calendar, string sent) =>
        Href.TryParse(sent) is { } href && href.IsMemberOf(calendar.Href) ? href.Segments[^1] : null;
}
