namespace Releasekit.Domain.Statistics.Chart;

/// <summary>
/// The limits of a chart of single values and their moving ranges (XmR), with exact constants: d2 = 2/√π,
/// d3 = √(2 - 4/π), E2 = 3/d2 (printed 2.66), D4 = 1 + 3·d3/d2 (printed 3.267 or 3.268). Sources: NIST/SEMATECH
/// e-Handbook 6.3.2.2; Montgomery, Introduction to Statistical Quality Control.
/// </summary>
/// <param name="N">How many values they rest on.</param>
/// <param name="Mean">Centre line, in the unit of the values; null without values.</param>
/// <param name="MeanRange">Mean of |x - x before|; null below two values.</param>
/// <param name="Lower">Mean - E2 · mean range, as computed; may be negative.</param>
/// <param name="Upper">Mean + E2 · mean range.</param>
/// <param name="RangeLimit">D4 · mean range: the upper limit of the moving ranges.</param>
/// <param name="Sigma">Mean range / d2.</param>
/// <param name="Missing">
/// Why there is no chart: no values, fewer than two, or no variation, when the limits lie on the mean and anything else
/// would be a signal. Null when there is one.
/// </param>
public sealed record NaturalLimits(
    int N,
    double? Mean,
    double? MeanRange,
    double? Lower,
    double? Upper,
    double? RangeLimit,
    double? Sigma,
    Lack? Missing)
{
    /// <summary>Below so many values limits are provisional (common practice, no source).</summary>
    public const int FirmFrom = 10;

    /// <summary>Expected range of two normal values, in sigma.</summary>
    public static double D2 { get; } = 2 / Math.Sqrt(Math.PI);

    /// <summary>Deviation of the range of two normal values, in sigma.</summary>
    public static double D3 { get; } = Math.Sqrt(2 - 4 / Math.PI);

    /// <summary>Mean ranges from the mean to a limit.</summary>
    public static double E2 { get; } = 3 / D2;

    /// <summary>Mean ranges up to the limit of the ranges.</summary>
    public static double D4 { get; } = 1 + 3 * D3 / D2;

    /// <summary>Whether they rest on too few values to be firm.</summary>
    public bool IsProvisional => N < FirmFrom;

    /// <summary>
    /// The lower limit as it is shown: none where the values cannot be negative and it is. It is then null, not 0.
    /// </summary>
    /// <param name="isDuration">Whether the values cannot be negative.</param>
    public double? ShownLower(bool isDuration) => isDuration && Lower < 0 ? null : Lower;

    /// <summary>The limits of values in the order in which they came.</summary>
    public static NaturalLimits Of(IReadOnlyList<double> values)
    {
        var n = values.Count;
        if (n < 2)
        {
            return new(
                n, n == 0 ? null : values[0], null, null, null, null, null,
                n == 0 ? Lack.NothingCounted : Lack.FewerThanTwo);
        }

        var (mean, sum) = (values.Average(), 0.0);
        for (var i = 1; i < n; i++)
        {
            sum += Math.Abs(values[i] - values[i - 1]);
        }

        var range = sum / (n - 1);
        return new(
            n, mean, range, mean - E2 * range, mean + E2 * range, D4 * range, range / D2,
            range == 0 ? Lack.NoVariation : null);
    }
}
