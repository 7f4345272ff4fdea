using System.Globalization;
using NodaTime.Text;

namespace Releasekit.Domain.Sheets;

/// <summary>Dates and amounts as sheets say them, in English.</summary>
public static class SheetWording
{
    private static readonly LocalDatePattern LongDay = LocalDatePattern.CreateWithInvariantCulture("dddd d MMMM");
    private static readonly LocalDatePattern ShortDay = LocalDatePattern.CreateWithInvariantCulture("ddd d MMM");
    private static readonly LocalDatePattern Month = LocalDatePattern.CreateWithInvariantCulture("MMMM uuuu");
    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("d MMMM");
    private static readonly LocalTimePattern Clock = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    /// <summary>Thursday 5 March.</summary>
    public static string InFull(LocalDate date) => LongDay.Format(date);

    /// <summary>Thu 5 Mar.</summary>
    public static string InShort(LocalDate date) => ShortDay.Format(date);

    /// <summary>5 March.</summary>
    public static string DayAndMonth(LocalDate date) => Day.Format(date);

    /// <summary>March 2026.</summary>
    public static string MonthAndYear(LocalDate date) => Month.Format(date);

    /// <summary>07:00.</summary>
    public static string Of(LocalTime time) => Clock.Format(time);

    /// <summary>6.5 h, or 20 min where that is under an hour.</summary>
    public static string Of(Duration duration) => duration < Duration.FromHours(1)
        ? $"{Math.Max(1, (int)Math.Ceiling(duration.TotalMinutes))} min"
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Round(duration.TotalHours, 1):0.#} h");

    /// <summary>1 day, 2 days.</summary>
    public static string Count(int count, string one, string? several = null) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : several ?? one + "s")}");
}
