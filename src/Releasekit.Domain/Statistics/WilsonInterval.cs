namespace Releasekit.Domain.Statistics;

/// <summary>
/// A share of n with its 95 % Wilson score interval:
/// <c>(k + z²/2 ± z·sqrt(k(n-k)/n + z²/4)) / (n + z²)</c>, z = 1.959963984540054 (Newcombe 1998, method 3).
/// It treats the n as independent; streaky records make it too narrow.
/// </summary>
/// <param name="Value">k / n, 0 to 1; null when n is 0.</param>
/// <param name="Low">Lower end, included; 0 when n is 0.</param>
/// <param name="High">Upper end, included; 1 when n is 0.</param>
/// <param name="N">How many were counted.</param>
public readonly record struct ProportionEstimate(double? Value, double Low, double High, int N)
{
    private const double Z = 1.959963984540054;

    /// <summary>The share <paramref name="k"/> of <paramref name="n"/>; 0 ≤ k ≤ n.</summary>
    /// <exception cref="ArgumentOutOfRangeException">k is negative or above n.</exception>
    public static ProportionEstimate Of(int k, int n)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(k);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(k, n);
        if (n == 0)
        {
            return new ProportionEstimate(null, 0, 1, 0);
        }

        double count = n;
        var middle = k + Z * Z / 2;
        var half = Z * Math.Sqrt(k * (count - k) / count + Z * Z / 4);

        // At the ends the formula is exact on paper and misses 0 or 1 by a rounding.
        var low = k == 0 ? 0 : (middle - half) / (count + Z * Z);
        var high = k == n ? 1 : (middle + half) / (count + Z * Z);
        return new ProportionEstimate(k / count, low, high, n);
    }
}
