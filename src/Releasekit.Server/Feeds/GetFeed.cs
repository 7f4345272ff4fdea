using Marten;
using Marten.Patching;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Calendar;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Feeds;

/// <summary>GET /feeds/{secret}.ics: the feed as iCalendar (RFC 5545, RFC 7986).</summary>
internal static class GetFeed
{
    private const int MonthsBack = 12;
    private const int MonthsAhead = 13;
    private static readonly Duration FetchStep = Duration.FromMinutes(1);
    private static readonly Duration Refresh = Duration.FromHours(1);

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapMethods("/feeds/{secret}.ics", [HttpMethods.Head], Handle).ExcludeFromDescription();
        Describe(routes.MapGet("/feeds/{secret}.ics", Handle));
    }

    private static void Describe(RouteHandlerBuilder route) => route
        .WithName("getFeed")
        .WithSummary("Fetch a calendar feed")
        .WithDescription(
            "iCalendar with a strong ETag and Last-Modified. Wrong, revoked and rotated addresses are answered alike.")
        .Answers(200, 404);

    private static async Task<IResult> Handle(
        string secret, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        await using var global = store.LightweightSession();

        if (await global.LoadAsync<Feed>(Secrets.IdOf(secret), cancel) is not { } feed)
        {
            return (Answer<Nothing>)Problems.Of("feed.unknown", "There is no feed at this address.");
        }

        var now = clock.Now;

        if (feed.LastFetchedAt is null || now - feed.LastFetchedAt > FetchStep)
        {
            global.Patch<Feed>(feed.Id).Set(known => known.LastFetchedAt, now);
            await global.SaveChangesAsync(cancel);
        }

        var publisher = await global.LoadAsync<Publisher>(feed.Publisher, cancel);
        await using var session = store.QuerySession(feed.Publisher);
        var (entries, changedAt) = await Entries(session, feed, publisher?.ChangedAt ?? feed.CreatedAt, now, cancel);
        var head = new CalendarHead(feed.Name)
        {
            ZoneId = publisher?.Zone,
            RefreshInterval = Refresh,
            Uid = $"{feed.Id}@feed.releasekit",
            ChangedAt = changedAt,
        };

        return Answer(http, CalendarWriter.Write(head, entries), changedAt);
    }

    private static async Task<(IReadOnlyCollection<CalendarEntry> Entries, Instant ChangedAt)> Entries(
        IQuerySession session, Feed feed, Instant publisherChangedAt, Instant now, CancellationToken cancel)
    {
        var wanted = feed.Series;
        var series = await session.Query<Series>().OrderBy(known => known.Slug).ToListAsync(cancel);
        var entries = new List<CalendarEntry>();
        var changedAt = Instant.Max(feed.CreatedAt, publisherChangedAt);

        foreach (var one in series.Where(one => wanted.Count == 0 || wanted.Contains(one.Slug)))
        {
            // Whole months, so that the text changes with what is planned and not with every hour.
            var month = now.InZone(one.Zone).Date.With(DateAdjusters.StartOfMonth);
            var (from, to) = (month.PlusMonths(-MonthsBack), month.PlusMonths(MonthsAhead));
            var since = from.AtStartOfDayInZone(one.Zone).ToInstant();

            var releases = await session.Query<Release>()
                .Where(release => release.Series == one.Slug
                    && (release.Slot >= from
                        || (release.Slot == null && (release.PublishedAt == null || release.PublishedAt >= since))))
                .OrderBy(release => release.Id)
                .ToListAsync(cancel);

            entries.AddRange(new FeedEntries(feed, one).Of(
                [.. releases.Where(release => release.State != ReleaseState.Dropped)], from, to));

            // What left the feed changed it too: a dropped release, one taken off its slot, a month that has passed.
            changedAt = releases
                .Select(release => release.ChangedAt)
                .Concat([one.ChangedAt, changedAt, month.AtStartOfDayInZone(one.Zone).ToInstant()])
                .Max();
        }

        return (entries, changedAt);
    }

    private static IResult Answer(HttpContext http, byte[] text, Instant changedAt)
    {
        var headers = http.Response.Headers;
        headers.CacheControl = "private, max-age=300";
        headers.LastModified = changedAt.ToDateTimeOffset()
            .ToString("R", System.Globalization.CultureInfo.InvariantCulture);
        headers["Referrer-Policy"] = "no-referrer";
        headers["X-Robots-Tag"] = "noindex";

        return ETags.IsUnchanged(http, ETags.OfBytes(text)) || NotModifiedSince(http, changedAt)
            ? TypedResults.StatusCode(StatusCodes.Status304NotModified)
            : TypedResults.Bytes(text, "text/calendar; charset=utf-8");
    }

    /// <summary>RFC 9110, 13.1.3: looked at only without If-None-Match.</summary>
    private static bool NotModifiedSince(HttpContext http, Instant changedAt) =>
        http.Request.Headers.IfNoneMatch.Count == 0
        && http.Request.GetTypedHeaders().IfModifiedSince is { } since
        && changedAt.ToUnixTimeSeconds() <= since.ToUnixTimeSeconds();
}
