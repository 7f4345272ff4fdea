namespace Releasekit.Domain.Statistics;

/// <summary>
/// A percentile of type 1 with its distribution-free 95 % interval. With B binomial (n, p): the lower end is the value
/// of the largest rank l with P(B &lt; l) ≤ 2.5 %, the upper end that of the smallest rank u with P(B ≥ u) ≤ 2.5 %
/// (Conover; Snedecor and Cochran). Ties make it conservative. With few values an end does not exist: for 50, 70, 85
/// and 95 % both do from n = 6, 11, 23 and 72 on.
/// </summary>
/// <param name="Percent">Whole, 0 to 100.</param>
/// <param name="Estimate">The percentile, in the unit of the values.</param>
/// <param name="LowRank">l, counting from 1; null when there is no such rank.</param>
/// <param name="HighRank">u, counting from 1; null when there is no such rank.</param>
/// <param name="Coverage">P(l ≤ B ≤ u - 1), an open side counted in full; null without values.</param>
public sealed record PercentileFigure(
    int Percent, Figure Estimate, int? LowRank, int? HighRank, double? Coverage)
{
    private const double Tail = 0.025;

    /// <summary>Whether so many values allow an upper end at all.</summary>
    public static bool HasUpperEnd(int n, int percent) =>
        n > 0 && new BinomialLaw(n, percent / 100.0).SmallestWithMore(Tail) <= n;

    /// <summary>The percentile of <paramref name="sorted"/>, ascending, in <paramref name="unit"/>.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The percent is outside 0 to 100.</exception>
    public static PercentileFigure Of(IReadOnlyList<double> sorted, int percent, FigureUnit unit)
    {
        var n = sorted.Count;
        var value = Percentile.Of(sorted, percent);
        if (value is null)
        {
            return new(percent, Figure.None(unit, 0, Lack.NothingCounted), null, null, null);
        }

        var law = new BinomialLaw(n, percent / 100.0);
        var (low, high) = (law.LargestWithLess(Tail), law.SmallestWithMore(Tail));
        int? lowRank = low >= 1 ? low : null;
        int? highRank = high <= n ? high : null;
        var coverage = (highRank is { } u ? law.UpTo(u - 1) : 1) - (lowRank is { } l ? law.UpTo(l - 1) : 0);
        return new(
            percent,
            Figure.Estimated(
                value, unit, n,
                lowRank is { } at ? sorted[at - 1] : null,
                highRank is { } to ? sorted[to - 1] : null,
                Lack.NoFiniteBound, Lack.NothingCounted),
            lowRank,
            highRank,
            coverage);
    }
}

/// <summary>How values are spread: the usual percentiles, least and greatest.</summary>
/// <param name="Unit">Of all values.</param>
/// <param name="N">How many values.</param>
/// <param name="Percentiles">50, 70, 85 and 95 %, each with its interval.</param>
/// <param name="Min">The least value; null without any.</param>
/// <param name="Max">The greatest value; null without any.</param>
public sealed record Spread(
    FigureUnit Unit, int N, IReadOnlyList<PercentileFigure> Percentiles, double? Min, double? Max)
{
    /// <summary>The percentiles that are shown, in per cent.</summary>
    public static IReadOnlyList<int> Shown { get; } = [50, 70, 85, 95];

    /// <summary>The spread of these values, in any order, which is changed.</summary>
    public static Spread Of(double[] values, FigureUnit unit)
    {
        Array.Sort(values);
        return new(
            unit,
            values.Length,
            [.. Shown.Select(percent => PercentileFigure.Of(values, percent, unit))],
            Percentile.Of(values, 0),
            Percentile.Of(values, 100));
    }

    /// <summary>The percentile of that per cent, one of <see cref="Shown"/>.</summary>
    public Figure At(int percent) => Percentiles.Single(figure => figure.Percent == percent).Estimate;
}
