namespace Releasekit.Domain.Statistics.Flow;

/// <summary>How long something took, counted in the ways people count days.</summary>
/// <param name="ElapsedHours">Of the UTC difference: 23 across the spring change of a clock.</param>
/// <param name="WallClockHours">Difference of the wall clocks of the zone: 24 across it.</param>
/// <param name="DateDifference">Local dates from the first to the last; 0 on one day.</param>
public readonly record struct DayCount(double ElapsedHours, double WallClockHours, int DateDifference)
{
    /// <summary>Elapsed hours divided by 24: the figure that is shown first.</summary>
    public double ElapsedDays => ElapsedHours / 24;

    /// <summary>Wall-clock hours divided by 24.</summary>
    public double WallClockDays => WallClockHours / 24;

    /// <summary>Days touched, first and last included (common practice, no source).</summary>
    public int InclusiveDays => DateDifference + 1;

    /// <summary>Counts from one instant to another in the zone of the series.</summary>
    public static DayCount Between(Instant from, Instant to, DateTimeZone zone)
    {
        var (begin, end) = (from.InZone(zone).LocalDateTime, to.InZone(zone).LocalDateTime);

        // Read as if in UTC, the difference is that of the wall clocks.
        return new(
            (to - from).TotalHours,
            (end.InUtc().ToInstant() - begin.InUtc().ToInstant()).TotalHours,
            Period.DaysBetween(begin.Date, end.Date));
    }
}
