namespace Releasekit.Domain.Statistics.Timeliness;

/// <summary>
/// Whether one of two is more often the greater, whatever the distances: of n that differ, the greater are binomial
/// (n, 1/2) when neither is. Ties are dropped. Under six that differ no two-sided p reaches 0.05.
/// </summary>
/// <param name="Greater">How often the first was greater.</param>
/// <param name="Smaller">How often it was smaller.</param>
/// <param name="Ties">How often they were the same.</param>
/// <param name="TwoSided">min(1, 2 · P(B ≥ max)); null when none differ.</param>
/// <param name="OneSided">P(B ≥ greater): whether the first is greater; null when none differ.</param>
public sealed record SignTest(int Greater, int Smaller, int Ties, double? TwoSided, double? OneSided)
{
    /// <summary>The test of pairs.</summary>
    public static SignTest Of(IReadOnlyList<(double First, double Second)> pairs) => Of(
        pairs.Count(pair => pair.First > pair.Second),
        pairs.Count(pair => pair.First < pair.Second),
        pairs.Count(pair => pair.First == pair.Second));

    /// <summary>The test of counts.</summary>
    public static SignTest Of(int greater, int smaller, int ties)
    {
        var n = greater + smaller;
        if (n == 0)
        {
            return new(0, 0, ties, null, null);
        }

        var law = new BinomialLaw(n, 0.5);
        return new(
            greater, smaller, ties, Math.Min(1, 2 * law.From(Math.Max(greater, smaller))), law.From(greater));
    }
}
