namespace Releasekit.Domain.Statistics;

/// <summary>
/// What a bootstrap of an order statistic would draw, exactly and without drawing: of n values, the one of rank k of a
/// resample is at most the j-th with probability P(Bin(n, j/n) ≥ k) (Efron and Tibshirani 1993).
/// </summary>
/// <param name="Support">The values, ascending.</param>
/// <param name="UpTo">The probability, 0 to 1, that the statistic is at most each of them.</param>
public sealed record BootstrapLaw(IReadOnlyList<double> Support, IReadOnlyList<double> UpTo)
{
    /// <summary>The law of the value of <paramref name="rank"/>, counting from 1; time is quadratic in n.</summary>
    /// <param name="sorted">Ascending, at least one.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such rank.</exception>
    public static BootstrapLaw OfRank(IReadOnlyList<double> sorted, int rank)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(rank, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(rank, sorted.Count);
        var n = sorted.Count;
        return new(
            [.. sorted],
            [.. Enumerable.Range(1, n).Select(j => new BinomialLaw(n, (double)j / n).From(rank))]);
    }

    /// <summary>The probability, 0 to 1, of the value at <paramref name="index"/>, counting from 0.</summary>
    public double ChanceOf(int index) => UpTo[index] - (index == 0 ? 0 : UpTo[index - 1]);

    /// <summary>Its mean, in the unit of the values.</summary>
    public double Mean => Support.Select((value, index) => value * ChanceOf(index)).Sum();

    /// <summary>Its standard deviation: the bootstrap's standard error, in the unit of the values.</summary>
    public double StandardError
    {
        get
        {
            var mean = Mean;
            return Math.Sqrt(
                Support.Select((value, index) => (value - mean) * (value - mean) * ChanceOf(index)).Sum());
        }
    }

    /// <summary>The smallest value that is not exceeded with at least that probability, 0 to 1.</summary>
    public double Quantile(double share)
    {
        var index = 0;
        while (index < UpTo.Count - 1 && UpTo[index] < share)
        {
            index++;
        }

        return Support[index];
    }

    /// <summary>The bootstrap's standard error of the mean, without drawing: the deviation of the values, divisor n,
    /// over the root of n; null without values.</summary>
    public static double? StandardErrorOfMean(IReadOnlyList<double> values)
    {
        if (values.Count == 0)
        {
            return null;
        }

        var mean = values.Average();
        return Math.Sqrt(values.Sum(value => (value - mean) * (value - mean))) / values.Count;
    }
}
