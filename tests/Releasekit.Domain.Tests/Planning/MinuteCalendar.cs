using CsCheck;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Planning;

/// <summary>A random working calendar with a second, slow reading of it: every minute asked by itself.</summary>
internal sealed record MinuteCalendar(
    IReadOnlyList<WorkingHours> Week, IReadOnlyList<LocalDate> DaysOff, IReadOnlyList<Interval> Busy, DateTimeZone Zone,
    Instant Origin)
{
    private const int Days = 16;
    private static readonly string[] Zones =
        ["Europe/Lisbon", "America/New_York", "Australia/Lord_Howe", "Pacific/Apia", "UTC"];

    // Sixteen days around the clock changes of each zone, and the days around a new year.
    private static readonly LocalDate[] Firsts =
        [new(2024, 3, 25), new(2024, 10, 20), new(2024, 3, 5), new(2024, 10, 30), new(2024, 4, 1), new(2024, 10, 1),
         new(2011, 12, 24), new(2024, 12, 24)];

    /// <summary>Calendars in quarters of an hour, some hours and days empty.</summary>
    public static Gen<MinuteCalendar> Any { get; } = Gen.Select(
        Gen.Select(Gen.Int[1, 7], Gen.Int[0, 92], Gen.Int[1, 40]).Array[0, 9],
        Gen.Int[0, Days].Array[0, 4],
        Gen.Select(Gen.Int[0, Days * 1440], Gen.Int[0, 2000]).Array[0, 5],
        Gen.OneOf(Zones), Gen.OneOf(Firsts))
        .Select((week, off, busy, zone, first) =>
        {
            var tz = DateTimeZoneProviders.Tzdb[zone];
            var origin = tz.AtStartOfDay(first).ToInstant();
            return new MinuteCalendar(
                [.. week.Select(hours => new WorkingHours((IsoDayOfWeek)hours.Item1, Quarter(hours.Item2),
                    Quarter(Math.Min(96, hours.Item2 + hours.Item3))))],
                [.. off.Select(first.PlusDays)],
                [.. busy.Select(b => new Interval(At(origin, b.Item1), At(origin, b.Item1 + b.Item2)))],
                tz, origin);
        });

    public WorkingCalendar Calendar => new(Week, DaysOff, Busy, Zone);

    /// <summary>For each minute from the origin, whether it is worked.</summary>
    public bool[] Minutes()
    {
        var first = Origin.InZone(Zone).Date;
        var windows = Enumerable.Range(-2, Days + 4)
            .Select(first.PlusDays)
            .Where(date => !DaysOff.Contains(date))
            .SelectMany(date => Week.Where(hours => hours.Day == date.DayOfWeek).Select(hours => (
                From: LocalTimes.ToInstant(date + hours.From, Zone),
                To: LocalTimes.ToInstant((hours.To == LocalTime.Midnight ? date.PlusDays(1) : date) + hours.To, Zone))))
            .ToArray();

        return [.. Enumerable.Range(0, Days * 1440)
            .Select(minute => At(Origin, minute))
            .Select(at => windows.Any(w => w.From <= at && at < w.To) && !Busy.Any(b => b.Start <= at && at < b.End))];
    }

    public Instant At(int minute) => At(Origin, minute);

    private static Instant At(Instant origin, int minute) => origin + Duration.FromMinutes(minute);

    private static LocalTime Quarter(int quarter) => LocalTime.FromMinutesSinceMidnight(quarter % 96 * 15);
}
