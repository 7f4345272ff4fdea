namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// The instances that EXDATE or RECURRENCE-ID name. A day and a time name the same instance when they are written with
/// the same date, since clients mix the two.
/// </summary>
internal sealed class TimeSet
{
    private readonly HashSet<Instant> _moments = [];
    private readonly HashSet<LocalDate> _days = [];
    private readonly HashSet<LocalDate> _dates = [];

    public TimeSet(IEnumerable<CalendarTime> times)
    {
        foreach (var time in times)
        {
            _moments.Add(time.Instant);
            _dates.Add(time.Local.Date);
            if (time.IsDate)
            {
                _days.Add(time.Local.Date);
            }
        }
    }

    public bool Has(CalendarTime time) => time.IsDate
        ? _dates.Contains(time.Local.Date)
        : _moments.Contains(time.Instant) || _days.Contains(time.Local.Date);
}
