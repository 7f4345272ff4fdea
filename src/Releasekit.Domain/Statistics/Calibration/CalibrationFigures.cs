namespace Releasekit.Domain.Statistics.Calibration;

/// <summary>A forecast that was kept when it was issued, and what came.</summary>
/// <param name="Chance">The probability that was told, 0 to 1.</param>
/// <param name="Happened">Whether it came true.</param>
public readonly record struct ScoredForecast(double Chance, bool Happened);

/// <summary>The forecasts of one row of a reliability table.</summary>
/// <param name="MeanForecast">0 to 1.</param>
/// <param name="Observed">The share that came true, with its Wilson interval.</param>
public sealed record ReliabilityRow(double MeanForecast, ProportionEstimate Observed);

/// <summary>
/// Whether what is told at 80 % comes true in 80 of 100. Score in today's form: the mean of (forecast - outcome)²
/// (AMS Glossary), 0 to 1; Brier's of 1950 is twice that. With rows k of n forecasts f and shares o:
/// <list type="bullet">
/// <item>reliability Σ n(f - o)²/N, resolution Σ n(o - rate)²/N, uncertainty rate·(1 - rate) (Murphy 1973);</item>
/// <item>score = reliability - resolution + uncertainty + variance within rows - covariance within rows; the last two
/// are 0 with a row for each distinct forecast (Stephenson, Coelho and Jolliffe 2008).</item>
/// </list>
/// </summary>
/// <param name="N">How many forecasts were scored. Without any all else is null.</param>
/// <param name="Rate">The share that came true.</param>
/// <param name="Score">The Brier score.</param>
/// <param name="Reliability">0 is best.</param>
/// <param name="Resolution">More is better.</param>
/// <param name="Uncertainty">Of the outcomes; not the forecaster's doing.</param>
/// <param name="WithinVariance">Σ (forecast - mean of its row)² / N.</param>
/// <param name="WithinCovariance">2/N · Σ (forecast - mean of its row)(outcome - share of its row).</param>
/// <param name="Skill">1 - score / uncertainty; null when all came out alike, as there is nothing to beat.</param>
/// <param name="SkillMissing">Why there is no skill; null when there is one.</param>
/// <param name="Table">By forecast, rising; only rows with forecasts.</param>
public sealed record CalibrationFigures(
    int N,
    double? Rate,
    double? Score,
    double? Reliability,
    double? Resolution,
    double? Uncertainty,
    double? WithinVariance,
    double? WithinCovariance,
    double? Skill,
    Lack? SkillMissing,
    IReadOnlyList<ReliabilityRow> Table)
{
    /// <summary>The score as Brier defined it in 1950: both outcomes summed, twice today's.</summary>
    public double? ScoreOfBothClasses => Score * 2;

    /// <summary>A row for each distinct forecast.</summary>
    public static CalibrationFigures Of(IReadOnlyList<ScoredForecast> forecasts) =>
        Of(forecasts, forecast => forecast.Chance);

    /// <summary>Rows from one edge, included, to the next, excluded; the last edge is included.</summary>
    /// <param name="edges">Rising, the first at most and the last at least any forecast.</param>
    public static CalibrationFigures Of(IReadOnlyList<ScoredForecast> forecasts, IReadOnlyList<double> edges) =>
        Of(forecasts, forecast => Math.Min(edges.Count - 2, edges.Skip(1).Count(edge => edge <= forecast.Chance)));

    private static CalibrationFigures Of(
        IReadOnlyList<ScoredForecast> forecasts, Func<ScoredForecast, double> rowOf)
    {
        if (forecasts.Count == 0)
        {
            return new(0, null, null, null, null, null, null, null, null, Lack.NothingCounted, []);
        }

        double n = forecasts.Count;
        var rate = forecasts.Average(Outcome);
        var rows = forecasts.GroupBy(rowOf).OrderBy(row => row.Key).Select(row => new Row([.. row])).ToArray();
        var score = forecasts.Average(forecast => Math.Pow(forecast.Chance - Outcome(forecast), 2));
        var uncertainty = rate * (1 - rate);
        return new(
            forecasts.Count,
            rate,
            score,
            rows.Sum(row => row.N * Math.Pow(row.Mean - row.Share, 2)) / n,
            rows.Sum(row => row.N * Math.Pow(row.Share - rate, 2)) / n,
            uncertainty,
            rows.Sum(row => row.Variance) / n,
            2 * rows.Sum(row => row.Covariance) / n,
            uncertainty == 0 ? null : 1 - score / uncertainty,
            uncertainty == 0 ? Lack.NoVariation : null,
            [.. rows.Select(row => new ReliabilityRow(row.Mean, ProportionEstimate.Of(row.Happened, row.N)))]);
    }

    private static double Outcome(ScoredForecast forecast) => forecast.Happened ? 1 : 0;

    private sealed class Row(ScoredForecast[] forecasts)
    {
        public int N => forecasts.Length;

        public int Happened { get; } = forecasts.Count(forecast => forecast.Happened);

        public double Share => (double)Happened / N;

        // A mean of equal values may miss them by a rounding, and each would then vary within its row.
        public double Mean { get; } = forecasts.All(forecast => forecast.Chance == forecasts[0].Chance)
            ? forecasts[0].Chance
            : forecasts.Average(forecast => forecast.Chance);

        public double Variance => forecasts.Sum(forecast => Math.Pow(forecast.Chance - Mean, 2));

        public double Covariance =>
            forecasts.Sum(forecast => (forecast.Chance - Mean) * (Outcome(forecast) - Share));
    }
}
