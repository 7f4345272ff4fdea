using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>PROPFIND (RFC 4918, 9.1), at depth 0 and 1.</summary>
internal static class FindProperties
{
    public static async Task Handle(HttpContext http)
    {
        // Left out it means infinity; clients that leave it out mean the thing itself.
        if (http.Request.Headers["Depth"].ToString().Equals("infinity", StringComparison.OrdinalIgnoreCase))
        {
            await DavBodies.Write(http, DavFault.Forbidden(DavConditions.FinitePropFind));
            return;
        }

        var (body, isAnswered) = await DavBodies.Read(http);

        if (isAnswered)
        {
            return;
        }

        if (PropFind.TryRead(body, out var fault) is not { } asked)
        {
            await DavBodies.Write(http, fault!);
            return;
        }

        var scene = await DavScene.Load(http, http.RequestAborted);

        if (await scene.Find(http) is not { } found)
        {
            await DavBodies.NotFound(http);
            return;
        }

        await Tell(http, scene, found, asked.Wish);
    }

    private static async Task Tell(HttpContext http, DavScene scene, DavResource found, PropWish wish)
    {
        var cancel = http.RequestAborted;
        var properties = new DavProperties(scene);
        using var answer = DavBodies.Begin(http);
        await answer.Response(found.Href.ToString(), properties.Of(found, wish), cancel);

        if (http.Request.Headers["Depth"] == "1")
        {
            await foreach (var member in Members(scene, found, cancel))
            {
                await answer.Response(member.Href.ToString(), properties.Of(member, wish), cancel);
            }
        }

        await answer.End(cancel);
    }

    private static async IAsyncEnumerable<DavResource> Members(
        DavScene scene, DavResource place,
        [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancel)
    {
        switch (place)
        {
            case HomePlace:
                foreach (var calendar in scene.Calendars())
                {
                    yield return calendar;
                }

                break;
            case CalendarPlace calendar:
                foreach (var stored in await scene.Objects.All(
                    scene.Publisher.Id, calendar.Collection.Key, withBodies: false, cancel))
                {
                    yield return scene.Item(calendar, stored);
                }

                break;
            case WayIn { Href.Segments: [DavPlaces.Root, DavPlaces.Principals] }:
                yield return new PrincipalPlace(DavPlaces.Principal(scene.Publisher.Id));
                break;
        }
    }
}
