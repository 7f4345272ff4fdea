namespace Releasekit.Domain.Statistics.Chart;

/// <summary>A pattern that would be rare if nothing had changed.</summary>
/// <param name="Rule">1 to 4.</param>
/// <param name="Index">The last point of the pattern, counting from 0.</param>
/// <param name="IsRange">Whether it is on the chart of the moving ranges.</param>
public readonly record struct Signal(int Rule, int Index, bool IsRange);

/// <summary>
/// The four detection rules of Wheeler and Chambers, Understanding Statistical Process Control, which are the zone
/// tests of Western Electric (1956). Inequalities are strict; a point on the centre line ends a run; a pattern is told
/// at its last point, which belongs to it. Durations are skewed: there are more false alarms by rule 1 than
/// the normal law says, so a signal is worth asking about, and no more.
/// </summary>
public static class DetectionRules
{
    private const int Run = 8;

    /// <summary>What each rule says, in order; other books use other numbers, so it is shown with a signal.</summary>
    public static IReadOnlyList<string> Texts { get; } =
    [
        "one point beyond three sigma from the centre line",
        "two of three points in a row beyond two sigma on the same side of the centre line",
        "four of five points in a row beyond one sigma on the same side of the centre line",
        "eight points in a row on the same side of the centre line",
    ];

    /// <summary>The signals of values in the order in which they came, by index and then by rule.</summary>
    /// <param name="mean">The centre line.</param>
    /// <param name="sigma">Above zero, in the unit of the values.</param>
    /// <exception cref="ArgumentOutOfRangeException">Sigma is not above zero: there is nothing to compare with.
    /// </exception>
    public static IReadOnlyList<Signal> Find(IReadOnlyList<double> values, double mean, double sigma)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sigma);
        List<Signal> signals = [];
        var run = 0;
        for (var i = 0; i < values.Count; i++)
        {
            var side = Math.Sign(values[i] - mean);
            run = side == 0 ? 0 : Math.Sign(run) == side ? run + side : side;
            AddIf(1, IsBeyond(i, 3, side));
            AddIf(2, IsBeyond(i, 2, side) && CountBeyond(i, 3, 2, side) >= 2);
            AddIf(3, IsBeyond(i, 1, side) && CountBeyond(i, 5, 1, side) >= 4);
            AddIf(4, Math.Abs(run) >= Run);

            void AddIf(int rule, bool isFound)
            {
                if (isFound)
                {
                    signals.Add(new(rule, i, IsRange: false));
                }
            }
        }

        return signals;

        bool IsBeyond(int index, double zone, int side) => side * (values[index] - mean) > zone * sigma;

        int CountBeyond(int last, int length, double zone, int side)
        {
            var count = 0;
            for (var index = Math.Max(0, last - length + 1); index <= last; index++)
            {
                count += IsBeyond(index, zone, side) ? 1 : 0;
            }

            return count;
        }
    }

    /// <summary>Rule 1 on the moving ranges, the only one that holds there.</summary>
    /// <param name="ranges">Of each value with the one before; null for the first.</param>
    /// <param name="limit">The upper limit of the ranges.</param>
    public static IEnumerable<Signal> FindInRanges(IReadOnlyList<double?> ranges, double limit)
    {
        for (var i = 0; i < ranges.Count; i++)
        {
            if (ranges[i] > limit)
            {
                yield return new(1, i, IsRange: true);
            }
        }
    }
}
