using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>
/// PROPPATCH (RFC 4918, 9.2): nothing can be changed yet, and that is said property by property, as a plain refusal
/// makes desktops stop.
/// </summary>
internal static class PatchProperties
{
    public static async Task Handle(HttpContext http)
    {
        var (body, isAnswered) = await DavBodies.Read(http);

        if (isAnswered)
        {
            return;
        }

        if (PropPatch.TryRead(body, out var fault) is not { } asked)
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

        using var answer = DavBodies.Begin(http);
        await answer.Response(
            found.Href.ToString(),
            asked.Changes.Select(change => change.Name).Distinct()
                .Select(name => PropAnswer.Refused(name, DavConditions.ProtectedProperty)),
            http.RequestAborted);
        await answer.End(http.RequestAborted);
    }
}
