using Marten;
using Releasekit.Domain.Sheets;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Pages;

namespace Releasekit.Server.Sheets;

/// <summary>A sheet as data, or as a page where the request asks for HTML.</summary>
internal sealed class SheetAnswer<TSheet>(TSheet? sheet, Func<HttpContext, Task>? page) : Answer<TSheet>(sheet, null)
    where TSheet : class
{
    public override Task ExecuteAsync(HttpContext http)
    {
        http.Response.Headers.Vary = "Accept";
        return page is null ? base.ExecuteAsync(http) : page(http);
    }
}

/// <summary>Makes a sheet for whoever asks.</summary>
internal sealed class SheetsOnRequest(IDocumentStore store, ServiceClock clock, SheetPages pages)
{
    /// <param name="address">The same sheet as a page.</param>
    /// <param name="make">The sheet from what there is on its days, from included to excluded.</param>
    public async Task<SheetAnswer<TSheet>> Answer<TSheet>(
        HttpContext http, Caller caller, SheetAddress address, LocalDate from, LocalDate to,
        Func<SheetFacts, TSheet> make)
        where TSheet : class
    {
        if (http.Request.PrefersHtml())
        {
            return new(null, context => pages.Show(context, caller, address));
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await EntryScene.Load(session, clock.Now, http.RequestAborted);

        return new(make(await SheetReading.Load(scene, from, to)), null);
    }
}
