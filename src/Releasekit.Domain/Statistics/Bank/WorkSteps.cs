namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// How long a release takes one person, in whole steps of any length (days, say, or quarters of them): each past one
/// equally likely to come again.
/// </summary>
public sealed class WorkSteps
{
    // What took seven steps by the clock took seven, not eight for a rounding.
    private const double Rounding = 1e-9;

    private WorkSteps(IEnumerable<(int Steps, double Share)> law, int n)
    {
        Law = [.. law.OrderBy(one => one.Steps)];
        ArgumentOutOfRangeException.ThrowIfNegative(Law[0].Steps, nameof(law));
        N = n;
        Mean = Law.Sum(one => one.Steps * one.Share);
    }

    /// <summary>By steps, rising, with the share of releases that took so many; sums to 1.</summary>
    public IReadOnlyList<(int Steps, double Share)> Law { get; }

    /// <summary>How many past releases it rests on; 0 for a law that was given.</summary>
    public int N { get; }

    /// <summary>Steps on average.</summary>
    public double Mean { get; }

    /// <summary>The shortest.</summary>
    public int Shortest => Law[0].Steps;

    /// <summary>The longest.</summary>
    public int Longest => Law[^1].Steps;

    /// <summary>The law of past releases, begun steps counted whole.</summary>
    /// <param name="lengths">In steps; at least one, none negative.</param>
    /// <exception cref="ArgumentException">There are none, or a negative one.</exception>
    public static WorkSteps Of(IReadOnlyList<double> lengths) => lengths.Count == 0
        ? throw new ArgumentException("There is nothing to go by.", nameof(lengths))
        : new(
            lengths.GroupBy(one => (int)Math.Ceiling(one - Rounding))
                .Select(group => (group.Key, (double)group.Count() / lengths.Count)),
            lengths.Count);

    /// <summary>A law that is given.</summary>
    /// <param name="law">Steps with their shares, which sum to 1.</param>
    public static WorkSteps OfShares(IEnumerable<(int Steps, double Share)> law) => new(law, 0);
}
