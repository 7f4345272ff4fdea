namespace Releasekit.Domain.Planning;

/// <summary>Three guesses at how long an activity takes, all in the same unit of working time.</summary>
/// <param name="Key">Unique in its network.</param>
/// <param name="Optimistic">If all goes well (a).</param>
/// <param name="Likely">Most often (m); a ≤ m ≤ b.</param>
/// <param name="Pessimistic">If much goes wrong (b).</param>
/// <param name="After">Keys of the activities it follows.</param>
public sealed record PertEstimate(
    string Key, double Optimistic, double Likely, double Pessimistic, IReadOnlyList<string> After)
{
    /// <summary>(a + 4m + b) / 6.</summary>
    public double Mean => (Optimistic + 4 * Likely + Pessimistic) / 6;

    /// <summary>((b - a) / 6)², in the square of the unit.</summary>
    public double Variance => (Pessimistic - Optimistic) * (Pessimistic - Optimistic) / 36;
}

/// <summary>
/// How long a network takes by the PERT formulas: means and variances added along the critical path, of several the one
/// with the largest variance, and a normal distribution laid over them (Malcolm, Roseboom, Clark and Fazar 1959).
/// The probability is an upper bound where paths run side by side: all of them have to be done.
/// </summary>
/// <param name="Mean">In the unit of the estimates; 0 for an empty network.</param>
/// <param name="Variance">In the square of that unit.</param>
public sealed record PertForecast(double Mean, double Variance)
{
    private const double Rounding = 1e-9;

    /// <summary>How widely the length scatters, in the unit of the estimates.</summary>
    public double StandardDeviation => Math.Sqrt(Variance);

    /// <summary>
    /// The forecast; null when the network cannot be worked, and then why, as <see cref="CriticalPath"/> says it.
    /// </summary>
    public static PertForecast? TryFind(IReadOnlyList<PertEstimate> estimates, out string? fault)
    {
        var order = ActivityOrder.Of(estimates, estimate => estimate.Key, estimate => estimate.After, out fault);
        if (order is null)
        {
            return null;
        }

        var none = new PertForecast(0, 0);
        var upTo = new Dictionary<string, PertForecast>();
        foreach (var estimate in order)
        {
            var before = estimate.After.Select(key => upTo[key]).Aggregate(none, Longer);
            upTo[estimate.Key] = new PertForecast(before.Mean + estimate.Mean, before.Variance + estimate.Variance);
        }

        return upTo.Values.Aggregate(none, Longer);
    }

    /// <summary>Sums along a path that is known: its activities, in any order.</summary>
    public static PertForecast Along(IEnumerable<PertEstimate> path) => path.Aggregate(
        new PertForecast(0, 0),
        (sum, estimate) => new PertForecast(sum.Mean + estimate.Mean, sum.Variance + estimate.Variance));

    /// <summary>(limit - mean) / deviation; null when nothing scatters.</summary>
    public double? Score(double limit) => Variance == 0 ? null : (limit - Mean) / StandardDeviation;

    /// <summary>The probability, 0 to 1, of being done within <paramref name="limit"/>, included.</summary>
    public double ChanceWithin(double limit) => Score(limit) is { } z
        ? StandardNormal.UpTo(z)
        : limit >= Mean ? 1 : 0;

    private static PertForecast Longer(PertForecast one, PertForecast other) =>
        Math.Abs(one.Mean - other.Mean) > Rounding * Math.Max(1, Math.Abs(one.Mean))
            ? one.Mean > other.Mean ? one : other
            : one.Variance >= other.Variance ? one : other;
}
