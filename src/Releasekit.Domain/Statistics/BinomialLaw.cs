namespace Releasekit.Domain.Statistics;

/// <summary>How many of n independent trials succeed, each with the same probability.</summary>
/// <remarks>
/// Weights grow from the most likely count outwards by the ratio of neighbours, and are divided by their sum: nothing
/// underflows, however large n is. Weights below 1e-40 of the largest are left out.
/// </remarks>
public sealed class BinomialLaw
{
    private const double Negligible = 1e-40;

    private readonly int _first;
    private readonly double[] _upTo;

    /// <summary>The law of <paramref name="n"/> trials, from 0, at probability <paramref name="p"/>, 0 to 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is negative or p outside 0 to 1.</exception>
    public BinomialLaw(int n, double p)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        ArgumentOutOfRangeException.ThrowIfLessThan(p, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(p, 1);
        var mode = p == 1 ? n : Math.Min(n, (int)((n + 1.0) * p));
        List<double> below = [];
        for (var (k, weight) = (mode, 1.0); k > 0; k--)
        {
            weight *= k * (1 - p) / ((n - k + 1) * p);
            if (weight < Negligible)
            {
                break;
            }

            below.Add(weight);
        }

        below.Reverse();
        _first = mode - below.Count;
        List<double> weights = [.. below, 1];
        for (var (k, weight) = (mode, 1.0); k < n; k++)
        {
            weight *= (n - k) * p / ((k + 1) * (1 - p));
            if (weight < Negligible)
            {
                break;
            }

            weights.Add(weight);
        }

        var (sum, running) = (weights.Sum(), 0.0);
        _upTo = [.. weights.Select(weight => (running += weight) / sum)];
    }

    /// <summary>P(B ≤ <paramref name="k"/>).</summary>
    public double UpTo(int k) => k < _first ? 0 : k >= _first + _upTo.Length ? 1 : _upTo[k - _first];

    /// <summary>P(B ≥ <paramref name="k"/>).</summary>
    public double From(int k) => 1 - UpTo(k - 1);

    /// <summary>The largest count k with P(B &lt; k) ≤ <paramref name="tail"/>.</summary>
    internal int LargestWithLess(double tail)
    {
        var k = _first;
        while (UpTo(k) <= tail)
        {
            k++;
        }

        return k;
    }

    /// <summary>The smallest count k with P(B ≥ k) ≤ <paramref name="tail"/>.</summary>
    internal int SmallestWithMore(double tail)
    {
        var k = _first;
        while (From(k) > tail)
        {
            k++;
        }

        return k;
    }
}
