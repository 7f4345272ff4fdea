namespace Releasekit.Domain.Statistics.Calibration;

/// <summary>
/// A forecast as it was issued, kept unchanged: "done by the target with this probability". The chance of a slot is
/// one; so is a date at 85 %.
/// </summary>
/// <param name="Release">The release it is about.</param>
/// <param name="IssuedAt">UTC.</param>
/// <param name="SlotAt">Where the slot of the release stood, UTC.</param>
/// <param name="TargetAt">UTC, included.</param>
/// <param name="Chance">0 to 1.</param>
public sealed record IssuedForecast(Guid Release, Instant IssuedAt, Instant SlotAt, Instant TargetAt, double Chance)
{
    /// <summary>How long before the slot it was issued, elapsed time.</summary>
    public Duration Lead => SlotAt - IssuedAt;
}

/// <summary>What became of a release, for scoring.</summary>
/// <param name="DoneAt">UTC; null while it is not.</param>
/// <param name="DroppedAt">UTC; null when it was not.</param>
/// <param name="PromisedAt">What was promised of its slot in the end, UTC; null when it holds none any more.</param>
public readonly record struct ReleaseOutcome(Instant? DoneAt, Instant? DroppedAt, Instant? PromisedAt);

/// <summary>The calibration of forecasts issued so long before the slot.</summary>
/// <param name="LeadDays">Elapsed days before the slot: of each release the last forecast no later than that.</param>
/// <param name="Figures">One forecast for each release.</param>
/// <param name="NotYetScored">Releases whose forecast waits for its target.</param>
public sealed record LeadCalibration(int LeadDays, CalibrationFigures Figures, int NotYetScored);

/// <summary>Compares issued forecasts with what came.</summary>
public static class ForecastScoring
{
    /// <summary>How many elapsed days before the slot forecasts are scored (common practice, no source).</summary>
    public static IReadOnlyList<int> UsualLeads { get; } = [1, 3, 7, 14];

    /// <summary>
    /// Whether it came true: done by the target is a hit; not done when the target passes is a miss at once. Null
    /// while neither is so, and for a release dropped before its target, about which nothing was learnt.
    /// </summary>
    /// <param name="at">UTC: what came later is not known.</param>
    public static bool? Outcome(IssuedForecast forecast, ReleaseOutcome outcome, Instant at)
    {
        if (outcome.DoneAt <= forecast.TargetAt && outcome.DoneAt <= at)
        {
            return true;
        }

        return outcome.DroppedAt <= forecast.TargetAt || at <= forecast.TargetAt ? null : false;
    }

    /// <summary>
    /// The calibration by lead time. Forecasts about one release hang together, so that of each release one forecast is
    /// scored for each lead time. A forecast for a slot that was moved or taken away in time is about a promise that
    /// was changed: it is left out.
    /// </summary>
    /// <param name="outcomes">By release; releases that are not in it are left out.</param>
    /// <param name="at">UTC.</param>
    /// <param name="leads">Elapsed days before the slot.</param>
    public static IReadOnlyList<LeadCalibration> ByLead(
        IReadOnlyList<IssuedForecast> issued,
        IReadOnlyDictionary<Guid, ReleaseOutcome> outcomes,
        Instant at,
        IReadOnlyList<int> leads)
    {
        IssuedForecast[] standing =
        [
            .. issued
                .Where(one => one.IssuedAt <= at && outcomes.GetValueOrDefault(one.Release).PromisedAt == one.SlotAt)
                .OrderByDescending(one => one.IssuedAt),
        ];
        return [.. leads.Select(Of)];

        LeadCalibration Of(int lead)
        {
            var scored = standing
                .Where(one => one.Lead >= Duration.FromDays(lead))
                .DistinctBy(one => one.Release)
                .Select(one => (one.Chance, Outcome: Outcome(one, outcomes[one.Release], at),
                    IsDropped: outcomes[one.Release].DroppedAt is not null))
                .ToArray();
            return new(
                lead,
                CalibrationFigures.Of(
                    [.. scored.Where(one => one.Outcome is not null)
                        .Select(one => new ScoredForecast(one.Chance, one.Outcome!.Value))],
                    Edges),
                scored.Count(one => one is { Outcome: null, IsDropped: false }));
        }
    }

    /// <summary>Rows of a reliability table: simulated chances hardly ever come twice, so tenths are put
    /// together.</summary>
    public static IReadOnlyList<double> Edges { get; } = [.. Enumerable.Range(0, 11).Select(tenth => tenth / 10.0)];
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
