using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Forecast;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/series/{series}/forecast: when the open releases are ready, and with what probability.</summary>
internal static class GetSeriesForecast
{
    private const int WeeksAhead = 12;

    public static void Map(IEndpointRouteBuilder series) => series
        .MapGet("/{series}/forecast", Handle)
        .WithName("getForecast")
        .WithSummary("Forecast the open releases of a series")
        .WithDescription("""
            Many trials: each open release of the publisher takes what a whole past release of its series took, what
            was begun only what is longer than it has taken already; one person does one thing after another, the
            earliest slot first, in the working hours that no busy appointment takes, and is ready no sooner than that
            past release was by its own pace, waiting included ("nonstop" leaves that out). With fewer than five past
            releases the guesses of the stage plan are drawn from, and named. Slots of the window ("from", "to"; today
            and twelve weeks when left out); "by" asks how many are ready by the end of a date ("to" when left out).
            The same "seed" and "trials" give the same answer. GET …/calibration tells whether such forecasts were
            right.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<SeriesForecastBody>> Handle(
        string series, [FromQuery] DateParameter? from, [FromQuery] DateParameter? to, [FromQuery] DateParameter? by,
        [FromQuery] InstantParameter? at, [FromQuery] int? seed, [FromQuery] int? trials, Caller caller,
        IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (ForecastQuestion.Check(seed, trials) is { } unfit)
        {
            return unfit;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await WorkScene.Load(session, at?.Value, clock.Now, cancel);

        if (!scene.Series.TryGetValue(series, out var found))
        {
            return Problems.NotFound($"series '{series}'");
        }

        var since = from?.Value ?? scene.At.InZone(found.Zone).Date;
        var until = to?.Value ?? since.PlusWeeks(WeeksAhead);

        return Schedule.Windows.Check(since, until) is { } wrong
            ? wrong
            : Show(scene, found, since, until, by?.Value ?? until, ForecastQuestion.Of(seed, trials));
    }

    private static SeriesForecastBody Show(
        WorkScene scene, Series series, LocalDate from, LocalDate to, LocalDate by, ForecastQuestion question)
    {
        var ahead = scene.Ahead();
        var forecast = scene.Simulate(ahead, question.Seed, question.Trials);
        var nonstop = scene.Simulate(ahead, question.Seed, question.Trials, WorkPattern.OnePerson).Releases
            .ToDictionary(one => one.Release);
        var releases = scene.Releases.Where(release => release.Series == series.Slug).ToDictionary(one => one.Id);
        ReleaseForecast[] own = [.. forecast.Releases.Where(one => releases.ContainsKey(one.Release))];
        var ids = own.Select(one => one.Release).ToHashSet();
        var endOfDay = by.PlusDays(1).AtStartOfDayInZone(series.Zone).ToInstant();

        return new(
            scene.At,
            question.Trials,
            question.Seed,
            [.. own.Select(one => ReleaseForecastBody.Of(
                releases[one.Release], one, nonstop[one.Release], ahead.Past[one.Release], scene.Calendar.Zone))],
            SlotsOf(scene, series, from, to, own),
            ids.Count == 0 ? null : ReadyByBody.Of(by, forecast.ReadyBy(endOfDay, ids)),
            [.. Enumerable.Range(1, ids.Count).Select(count => new WhenReadyBody(
                count, forecast.WhenReady(count, ids)))],
            NotForecast(scene, ahead),
            SeriesForecastBody.UsualCaution);
    }

    private static SlotForecastBody[] SlotsOf(
        WorkScene scene, Series series, LocalDate from, LocalDate to, ReleaseForecast[] forecasts)
    {
        var holders = scene.Releases
            .Where(release => release.Series == series.Slug && release is { HeldSlot: not null, PublishedAt: null })
            .GroupBy(release => release.HeldSlot!.Value)
            .ToDictionary(group => group.Key, group => group.First());
        var published = scene.Releases
            .Where(release => release.Series == series.Slug && release.PublishedAt is not null)
            .Select(release => release.HeldSlot)
            .ToHashSet();

        return
        [
            .. SlotCalendar.Between(series, from, to)
                .Where(slot => slot.OwedAt is not null && !published.Contains(slot.Date))
                .Select(slot => Show(slot, holders.GetValueOrDefault(slot.Date))),
        ];

        SlotForecastBody Show(Slot slot, Release? holder) => new(
            slot.Date, slot.At, holder?.Id, forecasts.FirstOrDefault(one => one.Release == holder?.Id)?.Met);
    }

    public static IReadOnlyList<NotForecastBody> NotForecast(WorkScene scene, WorkAhead ahead)
    {
        var titles = scene.Releases.ToDictionary(release => release.Id, release => release.Title);

        return
        [
            .. ahead.Unforeseen.Select(one => new NotForecastBody(
                one.Release.Release, titles[one.Release.Release], one.Past, one.LeftOut, one.WithoutGuess)),
        ];
    }
}

/// <summary>How a forecast is asked for.</summary>
internal sealed record ForecastQuestion(int Seed, int Trials)
{
    public const int UsualSeed = 1;
    private const int FewestTrials = 100;
    private const int MostTrials = 100_000;

    public static ForecastQuestion Of(int? seed, int? trials) =>
        new(seed ?? UsualSeed, trials ?? WorkForecast.UsualTrials);

    public static Problem? Check(int? seed, int? trials) => (seed, trials) switch
    {
        ( < 0, _) => Unfit("seed", "'seed' is a whole number from 0 on."),
        (_, < FewestTrials or > MostTrials) => Unfit("trials", $"'trials' takes {FewestTrials} to {MostTrials}."),
        _ => null,
    };

    private static Problem Unfit(string parameter, string detail) =>
        Problems.Of("query-invalid", detail, new ProblemError(parameter, detail));
}
