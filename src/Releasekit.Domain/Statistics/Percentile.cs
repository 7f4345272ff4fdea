namespace Releasekit.Domain.Statistics;

/// <summary>
/// Percentiles of type 1 (Hyndman and Fan 1996; R's <c>quantile(type = 1)</c>): x[ceil(n·p)], always a value that
/// occurred, so that "85 % took at most x" is true as it stands.
/// </summary>
public static class Percentile
{
    /// <summary>
    /// The smallest value that at least <paramref name="percent"/> of <paramref name="sorted"/> do not exceed; null
    /// when there are none.
    /// </summary>
    /// <param name="sorted">Ascending; the unit is the answer's unit.</param>
    /// <param name="percent">0 to 100; 0 is the smallest value. Whole, as 0.07 · 100 is not 7 in doubles.</param>
    public static double? Of(IReadOnlyList<double> sorted, int percent)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(percent);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(percent, 100);
        if (sorted.Count == 0)
        {
            return null;
        }

        var rank = (int)(((long)sorted.Count * percent + 99) / 100);
        return sorted[Math.Max(rank, 1) - 1];
    }
}
