using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Calibration;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/series/{series}/calibration: whether the forecasts were right.</summary>
internal static class GetCalibration
{
    public static void Map(IEndpointRouteBuilder series) => series
        .MapGet("/{series}/calibration", Handle)
        .WithName("getCalibration")
        .WithSummary("Read whether the forecasts were right")
        .WithDescription("""
            The forecasts of every day are kept as they were told, and compared with what came once the slot has passed:
            1, 3, 7 and 14 days before it. What is told at 80 % should come true in 80 of 100. Score: Brier, 0 is best,
            with its parts (Murphy) and the table of what was told against what came. "dates": how often releases were
            ready by the dates told at 50, 70, 85 and 95 %. Slots of the window; the last 365 days when left out. A
            history that was imported has no forecasts: nobody told any then.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<CalibrationBody>> Handle(
        string series, [FromQuery] DateParameter? from, [FromQuery] DateParameter? to, [FromQuery] InstantParameter? at,
        Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);
        var (scene, problem) = await LearningScene.Load(session, series, from, to, at, clock.Now, cancel);

        if (scene is null)
        {
            return problem!;
        }

        var (start, end) = (scene.Whole.Start, scene.Whole.End);
        var kept = await session.Query<KeptForecast>()
            .Where(forecast => forecast.Series == series && forecast.SlotAt >= start && forecast.SlotAt < end)
            .ToListAsync(cancel);
        var promises = await PromisesOf(session, scene, cancel);
        var met = Outcomes(scene, promises, release => release.PublishedAt);
        var ready = Outcomes(scene, promises, release => release.ReadyAt);
        var ofSlots = ForecastScoring.ByLead(
            [.. kept.Select(one => one.OfSlot)], met, scene.At, ForecastScoring.UsualLeads);
        var ofDates = Spread.Shown.ToDictionary(percent => percent, percent => ForecastScoring.ByLead(
            [.. kept.Select(one => one.OfDate(percent)).OfType<IssuedForecast>()], ready, scene.At,
            ForecastScoring.UsualLeads));

        return new CalibrationBody(
            scene.From, scene.To, scene.At, kept.Count,
            [
                .. ofSlots.Select((lead, index) => new LeadBody(
                    lead.LeadDays, lead.Figures, lead.NotYetScored,
                    [.. ofDates.Select(dates => DateHitsBody.Of(dates.Key, dates.Value[index]))])),
            ]);
    }

    /// <summary>What was promised in the end, UTC, by the release that holds the slot.</summary>
    private static async Task<IReadOnlyDictionary<Guid, Instant>> PromisesOf(
        IQuerySession session, LearningScene scene, CancellationToken cancel)
    {
        var slots = SlotCalendar
            .Between(scene.Series, scene.From.PlusDays(-7), scene.To.PlusDays(7))
            .Where(slot => slot.Excuse is null)
            .ToDictionary(slot => slot.Date);
        var marks = await ReleaseMarks.Of(session, scene.Series.Slug, cancel);

        return marks
            .Where(mark => mark.Slot is { } date && slots.ContainsKey(date))
            .ToDictionary(mark => mark.Id, mark => slots[mark.Slot!.Value].PromisedAt);
    }

    private static Dictionary<Guid, ReleaseOutcome> Outcomes(
        LearningScene scene, IReadOnlyDictionary<Guid, Instant> promises,
        Func<Domain.Statistics.Flow.ReleaseFacts, Instant?> done) => scene.Facts.ToDictionary(
            facts => facts.Release,
            facts => new ReleaseOutcome(
                done(facts),
                facts.DroppedAt,
                promises.TryGetValue(facts.Release, out var promised) ? promised : null));
}

/// <param name="From">First local date of the window, in the zone of the series; included.</param>
/// <param name="To">Last local date of the window; excluded.</param>
/// <param name="At">As of then, UTC.</param>
/// <param name="Kept">How many forecasts for slots of the window were kept.</param>
/// <param name="ByLead">1, 3, 7 and 14 days before the slot.</param>
internal sealed record CalibrationBody(
    LocalDate From, LocalDate To, Instant At, int Kept, IReadOnlyList<LeadBody> ByLead);

/// <param name="LeadDays">How many days before the slot: of each release the last forecast no later than that.</param>
/// <param name="Met">Whether slots were met, of releases whose slot has passed; one forecast for each.</param>
/// <param name="NotYetScored">Releases whose slot is still to come.</param>
/// <param name="Dates">Whether releases were ready by the dates that were told.</param>
internal sealed record LeadBody(
    int LeadDays, CalibrationFigures Met, int NotYetScored, IReadOnlyList<DateHitsBody> Dates);

/// <param name="Percent">What was told: ready by the date with so many per cent.</param>
/// <param name="Hit">The share that was, with its 95 % interval (Wilson).</param>
internal sealed record DateHitsBody(int Percent, Figure Hit)
{
    public static DateHitsBody Of(int percent, LeadCalibration lead) => new(
        percent, lead.Figures.Table is [var only] ? Figure.Of(only.Observed) : Figure.None(
            FigureUnit.Share, 0, Lack.NothingCounted));
}
