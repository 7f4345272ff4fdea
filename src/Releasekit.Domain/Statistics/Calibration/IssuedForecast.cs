namespace Releasekit.Domain.Statistics.Calibration;

/// <summary>
/// A forecast as it was issued, kept unchanged: "finished by the target with this probability". The chance of a slot is
/// one; so is a date at 85 %.
/// </summary>
/// <param name="Release">The release it is about.</param>
/// <param name="IssuedAt">UTC.</param>
/// <param name="TargetAt">UTC, included.</param>
/// <param name="Chance">0 to 1.</param>
public sealed record IssuedForecast(Guid Release, Instant IssuedAt, Instant TargetAt, double Chance)
{
    /// <summary>How far ahead it looked, elapsed time.</summary>
    public Duration Lead => TargetAt - IssuedAt;
}

/// <summary>What became of a release, for scoring.</summary>
/// <param name="FinishedAt">UTC; null while it is not.</param>
/// <param name="DroppedAt">UTC; null when it was not.</param>
public readonly record struct ReleaseOutcome(Instant? FinishedAt, Instant? DroppedAt);

/// <summary>The calibration of forecasts that looked about as far ahead.</summary>
/// <param name="FromDays">Elapsed days ahead, included.</param>
/// <param name="ToDays">Elapsed days ahead, excluded; null for all beyond.</param>
/// <param name="Figures">One forecast for each release.</param>
/// <param name="NotYetScored">Releases whose forecast waits for its target.</param>
public sealed record LeadCalibration(int FromDays, int? ToDays, CalibrationFigures Figures, int NotYetScored);

/// <summary>Compares issued forecasts with what came.</summary>
public static class ForecastScoring
{
    /// <summary>Where classes of lead time begin, elapsed days (common practice, no source).</summary>
    public static IReadOnlyList<int> UsualLeads { get; } = [0, 7, 14, 28];

    /// <summary>
    /// Whether it came true: finished by the target is a hit; unfinished when the target passes is a miss at once. Null
    /// while neither is so, and for a release dropped before its target, about which nothing was learnt.
    /// </summary>
    /// <param name="at">UTC: what came later is not known.</param>
    public static bool? Outcome(IssuedForecast forecast, ReleaseOutcome outcome, Instant at)
    {
        if (outcome.FinishedAt <= forecast.TargetAt && outcome.FinishedAt <= at)
        {
            return true;
        }

        return outcome.DroppedAt <= forecast.TargetAt || at <= forecast.TargetAt ? null : false;
    }

    /// <summary>
    /// The calibration by lead time. Forecasts about one release hang together, so that in each class its first one
    /// alone is scored.
    /// </summary>
    /// <param name="outcomes">By release; releases that are not in it count as open.</param>
    /// <param name="at">UTC.</param>
    /// <param name="leads">Where classes begin, elapsed days, rising from 0.</param>
    public static IReadOnlyList<LeadCalibration> ByLead(
        IReadOnlyList<IssuedForecast> issued,
        IReadOnlyDictionary<Guid, ReleaseOutcome> outcomes,
        Instant at,
        IReadOnlyList<int> leads)
    {
        return [.. leads.Select((from, index) => Class(from, index + 1 < leads.Count ? leads[index + 1] : null))];

        LeadCalibration Class(int from, int? to)
        {
            var scored = issued
                .Where(one => one.Lead.TotalDays >= from && !(one.Lead.TotalDays >= to))
                .OrderBy(one => one.IssuedAt)
                .DistinctBy(one => one.Release)
                .Select(one => (one.Chance, Outcome: Outcome(one, outcomes.GetValueOrDefault(one.Release), at),
                    IsDropped: outcomes.GetValueOrDefault(one.Release).DroppedAt is not null))
                .ToArray();
            return new(
                from,
                to,
                CalibrationFigures.Of(
                    [.. scored.Where(one => one.Outcome is not null)
                        .Select(one => new ScoredForecast(one.Chance, one.Outcome!.Value))]),
                scored.Count(one => one is { Outcome: null, IsDropped: false }));
        }
    }
}

/// <summary>
/// The loss of a percentile that was forecast: for each release p·(actual - forecast) where it took longer, else
/// (1 - p)·(forecast - actual), on average. Least where the forecast is that percentile (Koenker and Bassett 1978).
/// </summary>
public static class PercentileLoss
{
    /// <summary>In the unit of the values; null without any.</summary>
    /// <param name="pairs">What was forecast and what came, of those that are finished.</param>
    /// <param name="percent">Whole, above 0, below 100.</param>
    public static double? Of(IReadOnlyList<(double Forecast, double Actual)> pairs, int percent)
    {
        if (pairs.Count == 0)
        {
            return null;
        }

        var share = percent / 100.0;
        return pairs.Average(pair => pair.Actual >= pair.Forecast
            ? share * (pair.Actual - pair.Forecast)
            : (1 - share) * (pair.Forecast - pair.Actual));
    }
}
