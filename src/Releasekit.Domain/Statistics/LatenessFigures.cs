namespace Releasekit.Domain.Statistics;

/// <summary>
/// How late, in hours, slots whose time has come were published; negative is early. Percentiles are of type 1
/// (<see cref="Percentile"/>). Everything is null when N is 0.
/// </summary>
/// <param name="N">How many slots: met and late ones.</param>
/// <param name="P50">Half were at most this late.</param>
/// <param name="P85">85 % were at most this late.</param>
/// <param name="P95">95 % were at most this late.</param>
/// <param name="Min">The earliest.</param>
/// <param name="Max">The latest.</param>
public sealed record LatenessFigures(int N, double? P50, double? P85, double? P95, double? Min, double? Max)
{
    /// <summary>The figures of the lateness of each slot, in hours, in any order.</summary>
    public static LatenessFigures Of(IEnumerable<double> hours)
    {
        double[] sorted = [.. hours.Order()];
        return new LatenessFigures(
            sorted.Length,
            Percentile.Of(sorted, 50),
            Percentile.Of(sorted, 85),
            Percentile.Of(sorted, 95),
            Percentile.Of(sorted, 0),
            Percentile.Of(sorted, 100));
    }
}
