using Releasekit.Domain.Statistics.Calibration;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Server.Learning;

/// <summary>The forecast of a release as it was told on a day; never changed afterwards.</summary>
/// <param name="Id">Release and day: there is one a day.</param>
/// <param name="Release">The id of the release.</param>
/// <param name="Series">The slug of its series.</param>
/// <param name="Day">The local date of the publisher it was told on.</param>
/// <param name="IssuedAt">UTC.</param>
/// <param name="SlotAt">Where the slot of the release stood then, UTC.</param>
/// <param name="MetUntil">Until when it still met the slot, UTC, included.</param>
/// <param name="Chance">The probability of that, 0 to 1.</param>
/// <param name="Finish">By when it was to be ready with 50, 70, 85 and 95 %.</param>
/// <param name="Basis">What it rested on.</param>
internal sealed record KeptForecast(
    string Id,
    Guid Release,
    string Series,
    LocalDate Day,
    Instant IssuedAt,
    Instant SlotAt,
    Instant MetUntil,
    double Chance,
    IReadOnlyList<FinishPercentile> Finish,
    ForecastBasis Basis)
{
    /// <summary>What it said of the slot.</summary>
    public IssuedForecast OfSlot => new(Release, IssuedAt, SlotAt, MetUntil, Chance);

    /// <summary>What it said of being ready, at that per cent; null where no date was told.</summary>
    public IssuedForecast? OfDate(int percent) =>
        Finish.FirstOrDefault(finish => finish.Percent == percent)?.At is { } at
            ? new(Release, IssuedAt, SlotAt, at, percent / 100.0)
            : null;

    /// <summary>The forecasts of a scene that can be scored: of open releases whose slot has not passed.</summary>
    /// <param name="day">The local date of the publisher.</param>
    public static IEnumerable<KeptForecast> Of(WorkScene scene, LocalDate day)
    {
        var ahead = scene.Ahead();
        var series = scene.Releases.ToDictionary(release => release.Id, release => release.Series);
        var graces = ahead.Open.ToDictionary(one => one.Release.Release, one => one.Release.Grace);

        return
            from forecast in scene.Simulate(ahead, ForecastQuestion.UsualSeed, WorkForecast.UsualTrials).Releases
            let slotAt = forecast.SlotAt
            where slotAt > scene.At
            select new KeptForecast(
                FormattableString.Invariant($"{forecast.Release:N}/{day:uuuu-MM-dd}"), forecast.Release,
                series[forecast.Release], day, scene.At, slotAt.Value, slotAt.Value + graces[forecast.Release],
                forecast.Met!.Value, forecast.Finish, forecast.Basis);
    }
}
