using System.Collections.Immutable;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Planning;

/// <summary>
/// When a publisher works: the working week, without the days off and without what the diary marks busy.
/// Efforts run on it; lead and cycle times do not.
/// <para>
/// Hours are wall-clock time, read as <see cref="LocalTimes"/> reads them, and as long as the UTC difference of their
/// ends: 01:00 to 04:00 is two hours on the night the clock leaps forward and four on the night it goes back.
/// </para>
/// <para>
/// A start is shown at the next working instant and a finish at the instant the work ends: what ends on Friday
/// at 17:00 never finishes "on Monday at 9:00".
/// </para>
/// </summary>
/// <remarks>Immutable as seen from outside; years are laid out when first asked for and then kept.</remarks>
public sealed class WorkingCalendar
{
    /// <summary>
    /// How many calendar years (UTC) beside the one asked about are searched; what lies further is answered by null.
    /// </summary>
    public const int YearsSearched = 20;

    private const int LastYear = 9_900;

    private readonly WorkingWindows _windows;
    private ImmutableDictionary<int, WorkingYear> _years = ImmutableDictionary<int, WorkingYear>.Empty;

    /// <summary>The calendar of that week; all three may be empty, in any order and overlap.</summary>
    /// <param name="week">Local time; an end at midnight is the end of that day.</param>
    /// <param name="daysOff">Local dates without work.</param>
    /// <param name="busy">When something else is on, UTC, ends excluded.</param>
    public WorkingCalendar(
        IEnumerable<WorkingHours> week, IEnumerable<LocalDate> daysOff, IEnumerable<Interval> busy, DateTimeZone zone)
    {
        Zone = zone;
        _windows = new WorkingWindows([.. week], [.. daysOff], [.. busy], zone);
        WeeklyHours = _windows.Weekly;
    }

    /// <summary>The zone in which the hours and the days off are meant.</summary>
    public DateTimeZone Zone { get; }

    /// <summary>What a week without days off and clock changes holds; zero when there are no working hours.</summary>
    public Duration WeeklyHours { get; }

    /// <summary>
    /// The calendar of <paramref name="publisher"/>, whose zone must be known (its rules see to that).
    /// </summary>
    /// <param name="busy">When something else is on, UTC, ends excluded.</param>
    public static WorkingCalendar Of(Publisher publisher, IEnumerable<Interval> busy) => new(
        publisher.WorkingWeek, publisher.DaysOff, busy, DateTimeZoneProviders.Tzdb[publisher.Zone]);

    /// <summary>The same zone without any working time.</summary>
    internal WorkingCalendar Emptied() => new([], [], [], Zone);

    /// <summary>
    /// The instant at which <paramref name="work"/> begun at <paramref name="at"/> is done; <paramref name="at"/>
    /// itself when there is nothing to do; null when the calendar has too little time in <see cref="YearsSearched"/>
    /// years.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The work is negative.</exception>
    public Instant? Add(Instant at, Duration work)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(work, Duration.Zero);
        if (work == Duration.Zero)
        {
            return at;
        }

        var left = work;
        foreach (var year in YearsFrom(at, +1))
        {
            var target = year.WorkedBy(at) + left;
            if (target <= year.Total)
            {
                return year.FinishOf(target);
            }

            left = target - year.Total;
        }

        return null;
    }

    /// <summary>
    /// The latest instant at which <paramref name="work"/> can begin and be done by <paramref name="at"/>;
    /// <paramref name="at"/> itself when there is nothing to do; null when the calendar has too little time in
    /// <see cref="YearsSearched"/> years.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The work is negative.</exception>
    public Instant? Subtract(Instant at, Duration work)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(work, Duration.Zero);
        if (work == Duration.Zero)
        {
            return at;
        }

        var left = work;
        foreach (var year in YearsFrom(at, -1))
        {
            var worked = year.WorkedBy(at);
            if (left <= worked)
            {
                return year.StartOf(worked - left);
            }

            left -= worked;
        }

        return null;
    }

    /// <summary>
    /// Working time from <paramref name="from"/> to <paramref name="to"/>; negative when they are the other way round;
    /// null when they are more than <see cref="YearsSearched"/> calendar years apart.
    /// </summary>
    public Duration? Between(Instant from, Instant to)
    {
        if (to < from)
        {
            return -Between(to, from);
        }

        var sum = Duration.Zero;
        foreach (var year in YearsFrom(from, +1))
        {
            sum += year.WorkedBy(to) - year.WorkedBy(from);
            if (to <= year.End)
            {
                return sum;
            }
        }

        return null;
    }

    /// <summary><paramref name="at"/> while work is possible, otherwise when it next is; null when never.</summary>
    public Instant? NextWorkingInstant(Instant at)
    {
        foreach (var year in YearsFrom(at, +1))
        {
            if (year.WorkedBy(at) is var worked && worked < year.Total)
            {
                return year.StartOf(worked);
            }
        }

        return null;
    }

    /// <summary>
    /// <paramref name="at"/> when work was possible up to it, otherwise when it last was; null when never. As a finish:
    /// the instant by which everything possible before <paramref name="at"/> is done.
    /// </summary>
    public Instant? PreviousWorkingInstant(Instant at)
    {
        foreach (var year in YearsFrom(at, -1))
        {
            if (year.WorkedBy(at) is var worked && worked > Duration.Zero)
            {
                return year.FinishOf(worked);
            }
        }

        return null;
    }

    /// <summary>
    /// The working time from <paramref name="from"/> to <paramref name="to"/> as unbroken stretches, in order, ends
    /// excluded; not beyond <see cref="YearsSearched"/> years.
    /// </summary>
    public IReadOnlyList<Interval> Stretches(Instant from, Instant to)
    {
        List<Interval> stretches = [];
        foreach (var year in YearsFrom(from, +1).TakeWhile(year => year.Begin < to))
        {
            foreach (var stretch in year.Stretches(from, to))
            {
                // A night's work through the UTC new year is one stretch, though two years hold it.
                if (stretches.Count > 0 && stretches[^1].End == stretch.Start)
                {
                    stretches[^1] = new Interval(stretches[^1].Start, stretch.End);
                    continue;
                }

                stretches.Add(stretch);
            }
        }

        return stretches;
    }

    private IEnumerable<WorkingYear> YearsFrom(Instant at, int step)
    {
        var first = at.InUtc().Year;
        for (var year = first; Math.Abs(year - first) <= YearsSearched && Math.Abs(year) <= LastYear; year += step)
        {
            yield return Year(year);
        }
    }

    private WorkingYear Year(int year)
    {
        if (_years.TryGetValue(year, out var known))
        {
            return known;
        }

        // Two threads may lay out the same year; both get the same, and one copy is forgotten.
        var laidOut = _windows.LayOut(year);
        _years = _years.SetItem(year, laidOut);
        return laidOut;
    }
}
