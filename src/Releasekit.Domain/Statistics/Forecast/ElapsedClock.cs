using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>Turns working hours from now into elapsed hours: a binary search for each, as trials ask for
/// many.</summary>
public sealed class ElapsedClock
{
    private readonly double[] _worked;
    private readonly double[] _elapsed;
    private readonly double _total;

    /// <summary>The clock of a calendar.</summary>
    /// <param name="now">UTC.</param>
    /// <param name="most">The most working hours that will be asked for.</param>
    public ElapsedClock(WorkingCalendar calendar, Instant now, double most)
    {
        var end = calendar.Add(now, Duration.FromHours(Math.Ceiling(most) + 1))
            ?? now + Duration.FromDays(365 * WorkingCalendar.YearsSearched);
        var stretches = calendar.Stretches(now, end);
        (_worked, _elapsed) = (new double[stretches.Count], new double[stretches.Count]);

        for (var i = 0; i < stretches.Count; i++)
        {
            (_worked[i], _elapsed[i]) = (_total, (stretches[i].Start - now).TotalHours);
            _total += stretches[i].Duration.TotalHours;
        }
    }

    /// <summary>When so much work is done; endless when the calendar has too little time.</summary>
    public double After(double work)
    {
        if (work <= 0)
        {
            return 0;
        }

        if (work > _total)
        {
            return double.PositiveInfinity;
        }

        // What ends with a stretch ends there, not where the next one begins.
        var found = Array.BinarySearch(_worked, work);
        var stretch = (found < 0 ? ~found : found) - 1;
        return _elapsed[stretch] + (work - _worked[stretch]);
    }
}
