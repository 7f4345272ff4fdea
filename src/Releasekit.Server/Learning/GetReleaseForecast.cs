using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics.Forecast;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/releases/{id}/forecast: when a release is ready, and with what probability.</summary>
internal static class GetReleaseForecast
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapGet("/{id:guid}/forecast", Handle)
        .WithName("getReleaseForecast")
        .WithSummary("Forecast a release")
        .WithDescription("""
            By when it is ready with 50, 70, 85 and 95 %, and whether it meets its slot: its own line of the forecast of
            its series, which says how that is reckoned. All open releases of the publisher share the hours.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<OneForecastBody>> Handle(
        Guid id, [FromQuery] InstantParameter? at, [FromQuery] int? seed, [FromQuery] int? trials, Caller caller,
        IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (ForecastQuestion.Check(seed, trials) is { } unfit)
        {
            return unfit;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await WorkScene.Load(session, at?.Value, clock.Now, cancel);

        if (scene.Releases.FirstOrDefault(release => release.Id == id) is not { } found)
        {
            return Problems.NotFound("release of that id");
        }

        var ahead = scene.Ahead();
        var question = ForecastQuestion.Of(seed, trials);
        var forecast = Of(WorkPattern.UsualPace);

        return new OneForecastBody(
            scene.At,
            found.State,
            question.Trials,
            question.Seed,
            forecast is null
                ? null
                : ReleaseForecastBody.Of(
                    found, forecast, Of(WorkPattern.OnePerson)!, ahead.Past[id], scene.Calendar.Zone),
            GetSeriesForecast.NotForecast(scene, ahead).FirstOrDefault(one => one.Release == id),
            SeriesForecastBody.UsualCaution);

        ReleaseForecast? Of(WorkPattern pattern) => scene
            .Simulate(ahead, question.Seed, question.Trials, pattern).Releases
            .FirstOrDefault(one => one.Release == id);
    }
}

/// <param name="At">As of then, UTC.</param>
/// <param name="State">Of the release: of one that is published or dropped there is nothing left to forecast.</param>
/// <param name="Trials">How many trials were run.</param>
/// <param name="Seed">The same seed, trials and past give the same forecast.</param>
/// <param name="Forecast">The forecast; null when nothing can be said, or nothing is left to be said.</param>
/// <param name="NotForecast">Why nothing can be said of an open release; null otherwise.</param>
/// <param name="Caution">What the figures do not know.</param>
internal sealed record OneForecastBody(
    Instant At,
    ReleaseState State,
    int Trials,
    int Seed,
    ReleaseForecastBody? Forecast,
    NotForecastBody? NotForecast,
    string Caution);
