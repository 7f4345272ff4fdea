namespace Releasekit.Domain.Statistics;

/// <summary>
/// How regular the gaps between one publication and the next are, in wall-clock days of the series' zone with their
/// fractions (a weekly gap stays 7 through daylight-saving changes). Everything is null when N is 0.
/// </summary>
/// <param name="N">How many gaps.</param>
/// <param name="MeanDays">Their mean.</param>
/// <param name="SdDays">Their standard deviation, divisor N - 1; null when N is below 2.</param>
/// <param name="Cv">Coefficient of variation, SdDays / MeanDays; null when N is below 2 or the mean is 0.</param>
/// <param name="MedianDays">Their median.</param>
/// <param name="MadDays">1.4826 times the median of |gap - median| (R's <c>mad</c>).</param>
public sealed record GapFigures(
    int N, double? MeanDays, double? SdDays, double? Cv, double? MedianDays, double? MadDays)
{
    private const double NormalConsistency = 1.4826;

    /// <summary>The figures of these gaps, in days, in any order.</summary>
    public static GapFigures Of(IReadOnlyList<double> days)
    {
        if (days.Count == 0)
        {
            return new GapFigures(0, null, null, null, null, null);
        }

        var mean = days.Average();
        double? sd = days.Count < 2
            ? null
            : Math.Sqrt(days.Sum(gap => (gap - mean) * (gap - mean)) / (days.Count - 1));
        var median = Median.Of([.. days]);
        var mad = Median.Of([.. days.Select(gap => Math.Abs(gap - median!.Value))]);
        return new GapFigures(days.Count, mean, sd, mean == 0 ? null : sd / mean, median, NormalConsistency * mad);
    }

    /// <summary>
    /// The gaps between consecutive publications, in days; those in which an excused slot's date lies strictly between
    /// the two local dates are left out, as a pause that was announced is not irregular.
    /// </summary>
    /// <param name="publications">Ascending.</param>
    /// <param name="excused">The dates of the excused slots, ascending.</param>
    public static IReadOnlyList<double> Between(
        IReadOnlyList<Publication> publications, IReadOnlyList<LocalDate> excused)
    {
        var gaps = new List<double>();
        var nextBreak = 0;
        for (var i = 1; i < publications.Count; i++)
        {
            var (before, after) = (publications[i - 1].Local, publications[i].Local);
            while (nextBreak < excused.Count && excused[nextBreak] <= before.Date)
            {
                nextBreak++;
            }

            if (nextBreak == excused.Count || excused[nextBreak] >= after.Date)
            {
                // Read as if in UTC, the difference is that of the wall clocks.
                gaps.Add((after.InUtc().ToInstant() - before.InUtc().ToInstant()).TotalDays);
            }
        }

        return gaps;
    }
}
