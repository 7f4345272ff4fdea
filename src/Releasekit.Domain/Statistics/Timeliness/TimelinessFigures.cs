namespace Releasekit.Domain.Statistics.Timeliness;

/// <summary>
/// Whether work fills the time it is given. With r = actual / allotted; what is nothing on either side has no ratio and
/// is left out. A heap at 1 is the trace of filling the time, or of writing the plan into the log; none of these
/// figures tells which.
/// </summary>
/// <param name="N">Pairs with a ratio.</param>
/// <param name="Excluded">Pairs without one.</param>
/// <param name="MedianRatio">The middle r; null without any, as all the others.</param>
/// <param name="MeanRatio">The mean r.</param>
/// <param name="LogRatioMean">The mean ln r: 0 when too much and too little even out.</param>
/// <param name="LogRatioSd">Of ln r, with n - 1; null under two.</param>
/// <param name="GeometricMeanRatio">exp of the mean ln r.</param>
/// <param name="TotalRatio">Σ actual / Σ allotted, of all pairs; null when nothing was allotted.</param>
/// <param name="AtOrUnder">The share with r ≤ 1.</param>
/// <param name="HeapedBelow">The share with r from 0.90 to 1.00.</param>
/// <param name="Exact">The share with r = 1.</param>
/// <param name="WithinQuarter">
/// The share whose allotment lay within 25 % of the actual, of all pairs that took something.
/// </param>
/// <param name="ErrorOfActual">
/// The mean |allotted - actual| / actual, of all pairs that took something. It rewards low promises: a doubling counts
/// 50 %, a halving 100 %.
/// </param>
/// <param name="ErrorOfAllotted">The mean |allotted - actual| / allotted, of all pairs that were allotted something.
/// </param>
/// <param name="Sign">Whether actual is more often greater than allotted.</param>
/// <param name="Slope">
/// Of ln actual on ln allotted, least squares: 1 when twice the time takes twice as long, 0 when the time given makes
/// no difference; null under three different allotments.
/// </param>
public sealed record TimelinessFigures(
    int N,
    int Excluded,
    double? MedianRatio,
    double? MeanRatio,
    double? LogRatioMean,
    double? LogRatioSd,
    double? GeometricMeanRatio,
    double? TotalRatio,
    Figure AtOrUnder,
    Figure HeapedBelow,
    Figure Exact,
    Figure WithinQuarter,
    double? ErrorOfActual,
    double? ErrorOfAllotted,
    SignTest Sign,
    double? Slope)
{
    private const int FewestForSlope = 3;

    // A ratio of 1.0 that was reckoned misses it by a rounding; heaping is about what was written down.
    private const double Rounding = 1e-9;

    /// <summary>The figures of finished work.</summary>
    public static TimelinessFigures Of(IReadOnlyList<Allotment> pairs)
    {
        Allotment[] rated = [.. pairs.Where(pair => pair.Ratio is not null)];
        double[] ratios = [.. rated.Select(pair => pair.Ratio!.Value)];
        double[] logs = [.. ratios.Select(ratio => Math.Log(ratio))];
        Allotment[] taken = [.. pairs.Where(pair => pair.Actual > 0)];
        Allotment[] allotted = [.. pairs.Where(pair => pair.Allotted > 0)];
        double? mean = logs.Length == 0 ? null : logs.Average();
        var whole = pairs.Sum(pair => pair.Allotted);
        return new(
            rated.Length,
            pairs.Count - rated.Length,
            Median.Of((double[])ratios.Clone()),
            ratios.Length == 0 ? null : ratios.Average(),
            mean,
            Deviation(logs),
            mean is { } log ? Math.Exp(log) : null,
            whole > 0 ? pairs.Sum(pair => pair.Actual) / whole : null,
            Share(ratios, ratio => ratio <= 1 + Rounding),
            Share(ratios, ratio => ratio is >= 0.9 - Rounding and <= 1 + Rounding),
            Share(ratios, IsExact),
            Share(taken, pair => Math.Abs(pair.Allotted - pair.Actual) <= 0.25 * pair.Actual + Rounding),
            MeanOf(taken, pair => Math.Abs(pair.Allotted - pair.Actual) / pair.Actual),
            MeanOf(allotted, pair => Math.Abs(pair.Allotted - pair.Actual) / pair.Allotted),
            SignTest.Of(
                ratios.Count(ratio => ratio > 1 + Rounding), ratios.Count(ratio => ratio < 1 - Rounding),
                ratios.Count(IsExact)),
            SlopeOf(rated));
    }

    /// <summary>
    /// What the past suggests to allot to something of that size: the size times the percentile of r, with its
    /// distribution-free interval. Under five finished there is none: <see cref="Lack.TooFewPast"/>.
    /// </summary>
    /// <param name="pairs">Of finished work.</param>
    /// <param name="size">What would be allotted by gut, in <paramref name="unit"/>.</param>
    /// <param name="percent">Whole, 0 to 100.</param>
    public static Figure Suggest(IReadOnlyList<Allotment> pairs, double size, int percent, FigureUnit unit)
    {
        double[] ratios = [.. pairs.Select(pair => pair.Ratio).OfType<double>().Order()];
        if (ratios.Length < Forecast.WorkLaw.FewestPast)
        {
            return Figure.None(unit, ratios.Length, Lack.TooFewPast);
        }

        var ratio = PercentileFigure.Of(ratios, percent, FigureUnit.Ratio).Estimate;
        return Figure.Estimated(
            ratio.Value * size, unit, ratio.N, ratio.Low * size, ratio.High * size, Lack.NoFiniteBound,
            Lack.TooFewPast);
    }

    private static Figure Share<T>(IReadOnlyCollection<T> all, Func<T, bool> counts) =>
        Figure.Of(ProportionEstimate.Of(all.Count(counts), all.Count));

    private static double? MeanOf(Allotment[] pairs, Func<Allotment, double> error) =>
        pairs.Length == 0 ? null : pairs.Average(error);

    private static bool IsExact(double ratio) => ratio is >= 1 - Rounding and <= 1 + Rounding;

    private static double? Deviation(double[] values)
    {
        if (values.Length < 2)
        {
            return null;
        }

        var mean = values.Average();
        return Math.Sqrt(values.Sum(value => Math.Pow(value - mean, 2)) / (values.Length - 1));
    }

    private static double? SlopeOf(Allotment[] rated)
    {
        if (rated.Select(pair => pair.Allotted).Distinct().Count() < FewestForSlope)
        {
            return null;
        }

        (double X, double Y)[] points = [.. rated.Select(pair => (Math.Log(pair.Allotted), Math.Log(pair.Actual)))];
        var (x, y) = (points.Average(point => point.X), points.Average(point => point.Y));
        return points.Sum(point => (point.X - x) * (point.Y - y)) / points.Sum(point => Math.Pow(point.X - x, 2));
    }
}
