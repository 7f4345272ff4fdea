using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>GET /v1/series/{series}/slots: the slots of a window with what became of each.</summary>
internal static class ListSlots
{
    private const int WeeksBack = 8;
    private const int WeeksAhead = 12;

    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapGet("/{series}/slots", Handle)
        .WithName("listSlots")
        .WithSummary("List slots")
        .WithDescription(
            "By original local date, from included, to excluded; eight weeks back and twelve ahead when left out.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<SlotBody>>> Handle(
        string series, [FromQuery] DateParameter? from, [FromQuery] DateParameter? to, [AsParameters] PageQuery page,
        Caller caller, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (page.Read<string>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);

        if (await session.LoadAsync<Series>(StreamIds.OfSeries(series), cancel) is not { } found)
        {
            return Problems.NotFound($"series '{series}'");
        }

        var now = clock.Now;
        var today = now.InZone(found.Zone).Date;
        var window = (From: from?.Value ?? today.PlusWeeks(-WeeksBack), To: to?.Value ?? today.PlusWeeks(WeeksAhead));

        if (Windows.Check(window.From, window.To) is { } unfit)
        {
            return unfit;
        }

        var judged = SeriesJudgement.Judge(found, await ReleaseMarks.Of(session, series, cancel), window.To, now);
        var outcomes = judged.Slots.ToDictionary(outcome => outcome.Date);
        var slots = SlotCalendar.Between(found, window.From, window.To)
            .Where(slot => after is null || string.CompareOrdinal(PositionOf(slot), after) > 0)
            .Take(page.Size + 1)
            .ToArray();

        return page.Page(http, slots, slot => SlotBody.Of(slot, outcomes[slot.Date]), PositionOf);
    }

    private static string PositionOf(Slot slot) => NodaTime.Text.LocalDatePattern.Iso.Format(slot.Date);

    /// <summary>One slot as <see cref="Handle"/> shows it.</summary>
    public static SlotBody Show(Series series, Slot slot, IReadOnlyCollection<ReleaseMark> releases, Instant now)
    {
        var judged = SeriesJudgement.Judge(series, releases, slot.Date, now);
        return SlotBody.Of(slot, judged.Slots.First(outcome => outcome.Date == slot.Date));
    }
}

/// <summary>Windows of local dates, from included, to excluded.</summary>
internal static class Windows
{
    private const int MostYears = 200;

    public static Problem? Check(LocalDate from, LocalDate to)
    {
        if (to < from)
        {
            return Problems.Of(
                "query-invalid", "'to' lies before 'from'; the window is from included to excluded.",
                new ProblemError("to", "Before 'from'."));
        }

        return from.Year < 1900 || to.Year > 2200
            ? Problems.Of(
                "query-invalid", "A window lies between 1900 and 2200.", new ProblemError("from", "Out of range."))
            : null;
    }
}
