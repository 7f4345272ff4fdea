namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// A forecast from nothing but how many releases were finished in each past period, say a day or a slot: every past
/// count equally likely to come again, independently. Exact by adding up, without drawing.
/// </summary>
public sealed class ThroughputLaw
{
    private const int LongestForecast = 100_000;
    private const double Rounding = 1e-12;

    private readonly double[] _chances;

    /// <summary>The law of these counts, one for each past period.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A count is negative.</exception>
    public ThroughputLaw(IReadOnlyList<int> counts)
    {
        foreach (var count in counts)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(count, nameof(counts));
        }

        Past = counts.Count;
        _chances = new double[counts.DefaultIfEmpty().Max() + 1];
        foreach (var count in counts)
        {
            _chances[count] += 1.0 / counts.Count;
        }
    }

    /// <summary>How many past periods there are.</summary>
    public int Past { get; }

    /// <summary>
    /// Why nothing is forecast: fewer than <see cref="WorkLaw.FewestPast"/> periods, or nothing was ever finished. Null
    /// when something is.
    /// </summary>
    public Lack? Missing => Past < WorkLaw.FewestPast ? Lack.TooFewPast
        : _chances.Length == 1 ? Lack.NothingToCompare
        : null;

    /// <summary>The probability, 0 to 1, of each count of releases finished in so many periods.</summary>
    /// <param name="periods">From 0.</param>
    public IReadOnlyList<double> CountIn(int periods)
    {
        double[] counts = [1];
        for (var period = 0; period < periods; period++)
        {
            counts = Added(counts);
        }

        return counts;
    }

    /// <summary>The probability, 0 to 1, that so many are finished within so many periods.</summary>
    public double ChanceWithin(int releases, int periods) => CountIn(periods).Skip(releases).Sum();

    /// <summary>
    /// The fewest periods within which so many are finished with at least that probability; null when nothing is
    /// forecast, see <see cref="Missing"/>, or it takes longer than anybody plans.
    /// </summary>
    /// <param name="percent">Whole, above 0, below 100.</param>
    public int? PeriodsFor(int releases, int percent)
    {
        if (Missing is not null)
        {
            return null;
        }

        // Only counts below the goal are carried on: what is finished needs no more periods.
        double[] open = releases > 0 ? [1] : [];
        for (var periods = 0; periods <= LongestForecast; periods++)
        {
            if (1 - open.Sum() >= percent / 100.0 - Rounding)
            {
                return periods;
            }

            open = [.. Added(open).Take(releases)];
        }

        return null;
    }

    /// <summary>
    /// The most releases that are finished in so many periods with at least that probability: the lower tail. Null when
    /// nothing is forecast, see <see cref="Missing"/>.
    /// </summary>
    /// <param name="percent">Whole, above 0, below 100.</param>
    public int? AtLeast(int periods, int percent)
    {
        if (Missing is not null)
        {
            return null;
        }

        var (counts, tail) = (CountIn(periods), 0.0);
        for (var count = counts.Count - 1; count > 0; count--)
        {
            tail += counts[count];
            if (tail >= percent / 100.0 - Rounding)
            {
                return count;
            }
        }

        return 0;
    }

    private double[] Added(double[] counts)
    {
        var sums = new double[counts.Length + _chances.Length - 1];
        for (var count = 0; count < counts.Length; count++)
        {
            for (var more = 0; more < _chances.Length; more++)
            {
                sums[count + more] += counts[count] * _chances[more];
            }
        }

        return sums;
    }
}
