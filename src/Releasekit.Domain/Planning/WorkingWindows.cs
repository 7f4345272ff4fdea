using Releasekit.Domain.Publishers;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Planning;

/// <summary>Turns a working week into the windows of a year, UTC.</summary>
internal sealed class WorkingWindows
{
    private readonly ILookup<IsoDayOfWeek, WorkingHours> _week;
    private readonly HashSet<LocalDate> _daysOff;
    private readonly List<Interval> _busy;
    private readonly DateTimeZone _zone;

    public WorkingWindows(
        IReadOnlyList<WorkingHours> week, HashSet<LocalDate> daysOff, IReadOnlyList<Interval> busy, DateTimeZone zone)
    {
        (_daysOff, _zone) = (daysOff, zone);
        _week = week.ToLookup(hours => hours.Day);
        _busy = Joined(busy.Select(time => new Interval(
            time.HasStart ? time.Start : Instant.MinValue, time.HasEnd ? time.End : Instant.MaxValue)));

        // Any week will do, a zone without clock changes given.
        var monday = new LocalDate(2024, 1, 1);
        Weekly = Joined(Enumerable.Range(0, 7).SelectMany(day => WindowsOf(monday.PlusDays(day), DateTimeZone.Utc)))
            .Aggregate(Duration.Zero, (sum, window) => sum + window.Duration);
    }

    public Duration Weekly { get; }

    /// <summary>The windows of that UTC year, cut at its ends.</summary>
    public WorkingYear LayOut(int year)
    {
        var begin = Instant.FromUtc(year, 1, 1, 0, 0);
        var end = Instant.FromUtc(year + 1, 1, 1, 0, 0);

        // Local dates run up to a day beside UTC; one more for zones that once left out a whole day.
        var first = new LocalDate(year, 1, 1).PlusDays(-2);
        var days = Period.DaysBetween(first, new LocalDate(year + 1, 1, 1).PlusDays(2));

        var windows = Joined(Enumerable.Range(0, days)
            .Select(first.PlusDays)
            .Where(date => !_daysOff.Contains(date))
            .SelectMany(date => WindowsOf(date, _zone))
            .Select(window => Cut(window, begin, end)));

        return new WorkingYear(begin, end, WithoutBusy(windows));
    }

    private IEnumerable<Interval> WindowsOf(LocalDate date, DateTimeZone zone)
    {
        foreach (var hours in _week[date.DayOfWeek])
        {
            var lastDay = hours.To == LocalTime.Midnight ? date.PlusDays(1) : date;
            var from = LocalTimes.ToInstant(date + hours.From, zone);
            var to = LocalTimes.ToInstant(lastDay + hours.To, zone);

            // Hours that lie in a gap may begin after they end; nothing is left of them then.
            yield return new Interval(from, Instant.Max(from, to));
        }
    }

    private List<Interval> WithoutBusy(IReadOnlyList<Interval> windows)
    {
        List<Interval> free = [];
        var next = 0;

        foreach (var window in windows)
        {
            var from = window.Start;
            while (next < _busy.Count && _busy[next].End <= from)
            {
                next++;
            }

            for (var busy = next; busy < _busy.Count && _busy[busy].Start < window.End; busy++)
            {
                if (_busy[busy].Start > from)
                {
                    free.Add(new Interval(from, _busy[busy].Start));
                }

                from = Instant.Max(from, _busy[busy].End);
            }

            if (from < window.End)
            {
                free.Add(new Interval(from, window.End));
            }
        }

        return free;
    }

    private static Interval Cut(Interval window, Instant begin, Instant end)
    {
        var from = Instant.Min(Instant.Max(window.Start, begin), end);
        return new Interval(from, Instant.Max(from, Instant.Min(window.End, end)));
    }

    /// <summary>In order, overlapping and touching ones joined, empty ones left out.</summary>
    private static List<Interval> Joined(IEnumerable<Interval> intervals)
    {
        List<Interval> joined = [];
        foreach (var interval in intervals.Where(i => i.Start < i.End).OrderBy(i => i.Start))
        {
            if (joined.Count > 0 && interval.Start <= joined[^1].End)
            {
                joined[^1] = new Interval(joined[^1].Start, Instant.Max(joined[^1].End, interval.End));
                continue;
            }

            joined.Add(interval);
        }

        return joined;
    }
}
