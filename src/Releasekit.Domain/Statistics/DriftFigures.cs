namespace Releasekit.Domain.Statistics;

/// <summary>
/// Whether publication slips from slot to slot: the slope of the signed lateness on the slot's index.
/// </summary>
/// <param name="HoursPerSlot">
/// Theil-Sen: the median of the slopes of all pairs, which a few bad slots do not move. Null when N is below 2.
/// </param>
/// <param name="LeastSquaresHoursPerSlot">Ordinary least squares, for comparison. Null when N is below 2.</param>
/// <param name="N">How many published slots.</param>
public sealed record DriftFigures(double? HoursPerSlot, double? LeastSquaresHoursPerSlot, int N)
{
    /// <summary>Most points whose pairs are compared; there are two million pairs of so many.</summary>
    public const int MostPoints = 2000;

    /// <summary>
    /// The drift of these slots. Of more than <see cref="MostPoints"/>, Theil-Sen takes the first and then every k-th,
    /// k the least whole number that brings them under; least squares takes all.
    /// </summary>
    /// <param name="points">Slot indices, all different, and lateness in hours.</param>
    public static DriftFigures Of(IReadOnlyList<(int Slot, double Hours)> points)
    {
        if (points.Count < 2)
        {
            return new DriftFigures(null, null, points.Count);
        }

        var stride = (points.Count + MostPoints - 1) / MostPoints;
        return new DriftFigures(
            TheilSen([.. points.Where((_, index) => index % stride == 0)]), LeastSquares(points), points.Count);
    }

    private static double? TheilSen((int Slot, double Hours)[] points)
    {
        var slopes = new double[points.Length * (points.Length - 1) / 2];
        var next = 0;
        for (var i = 1; i < points.Length; i++)
        {
            for (var j = 0; j < i; j++)
            {
                slopes[next++] = (points[i].Hours - points[j].Hours) / (points[i].Slot - points[j].Slot);
            }
        }

        return Median.Of(slopes);
    }

    private static double LeastSquares(IReadOnlyList<(int Slot, double Hours)> points)
    {
        var (meanSlot, meanHours) = (points.Average(point => point.Slot), points.Average(point => point.Hours));
        return points.Sum(point => (point.Slot - meanSlot) * (point.Hours - meanHours))
            / points.Sum(point => (point.Slot - meanSlot) * (point.Slot - meanSlot));
    }
}
