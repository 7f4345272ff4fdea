using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>GET /v1/series/{series}/cadence: how the series kept what its cadence promises.</summary>
internal static class GetAdherence
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapGet("/{series}/cadence", Handle)
        .WithName("getAdherence")
        .WithSummary("Read how the cadence was kept")
        .WithDescription("""
            Publications are matched to slots over the whole history, up to "at", as known now; reported are the
            slots, extras and streaks in the window, from included, to excluded. The last 365 days when the window is
            left out.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<AdherenceBody>> Handle(
        string series, [FromQuery] DateParameter? from, [FromQuery] DateParameter? to, [FromQuery] InstantParameter? at,
        Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);

        if (await session.LoadAsync<Series>(StreamIds.OfSeries(series), cancel) is not { } found)
        {
            return Problems.NotFound($"series '{series}'");
        }

        var asOf = at?.Value ?? clock.Now;
        var today = asOf.InZone(found.Zone).Date;
        var until = to?.Value ?? today.PlusDays(1);
        var since = from?.Value ?? until.PlusDays(-365);

        if (Windows.Check(since, until) is { } unfit)
        {
            return unfit;
        }

        var judged = SeriesJudgement.Judge(found, await ReleaseMarks.Of(session, series, cancel), until, asOf);
        return AdherenceBody.Of(since, until, asOf, Adherence.Summarise(judged, since, until));
    }
}

/// <summary>Figures are unrounded; one that cannot be computed is null.</summary>
/// <param name="From">First local date of the window, in the zone of the series; included.</param>
/// <param name="To">Last local date of the window; excluded.</param>
/// <param name="At">The instant it was judged as of, UTC.</param>
/// <param name="Slots">due + pending + excused + future.</param>
/// <param name="Due">onTime + late + overdue + missed.</param>
/// <param name="OnTime">Due slots that were published within the tolerance, or early.</param>
/// <param name="Late">Due slots that were published after the tolerance.</param>
/// <param name="Pending">Slots whose time has come, not yet published, still within the tolerance.</param>
/// <param name="Overdue">Due slots past the tolerance, not published, which may still come.</param>
/// <param name="Missed">Due slots whose late window has passed, nothing published.</param>
/// <param name="Excused">Slots in a break, or given up in time, past or to come.</param>
/// <param name="Future">Slots whose time has not come.</param>
/// <param name="Extra">Publications that belong to no slot.</param>
/// <param name="OnTimeRate">onTime of due with its 95 % interval (Wilson).</param>
/// <param name="LatenessHours">Of due slots that were published; percentiles of type 1.</param>
/// <param name="CurrentStreak">
/// How many of the latest due slots of the window in a row were on time; excused ones do not count.
/// </param>
/// <param name="LongestStreak">The most due slots of the window in a row that were on time.</param>
/// <param name="Gaps">How regular the days between one publication and the next are.</param>
/// <param name="Drift">Whether publication slips from slot to slot.</param>
internal sealed record AdherenceBody(
    LocalDate From, LocalDate To, Instant At,
    int Slots, int Due, int OnTime, int Late, int Pending, int Overdue, int Missed, int Excused, int Future, int Extra,
    ProportionEstimate OnTimeRate, LatenessFigures LatenessHours, int CurrentStreak, int LongestStreak, GapFigures Gaps,
    DriftFigures Drift)
{
    public static AdherenceBody Of(LocalDate from, LocalDate to, Instant at, AdherenceFigures figures) => new(
        from, to, at,
        figures.Slots, figures.Due, figures.OnTime, figures.Late, figures.Pending, figures.Overdue, figures.Missed,
        figures.Excused, figures.Future, figures.Extra,
        figures.OnTimeRate, figures.LatenessHours, figures.CurrentStreak, figures.LongestStreak, figures.Gaps,
        figures.Drift);
}
