using System.Globalization;
using NodaTime.Calendars;
using NodaTime.Text;

namespace Releasekit.Domain.Work;

/// <summary>
/// A day, an ISO week or a month: when a task is meant to be done. Written <c>2026-03-05</c>, <c>2026-W10</c> (ISO
/// 8601, week dates) or <c>2026-03</c>.
/// </summary>
/// <param name="First">Its first local date.</param>
public readonly record struct CalendarPeriod(PeriodKind Kind, LocalDate First)
{
    private const int EarliestYear = 1970;
    private const int LatestYear = 2199;

    private static readonly LocalDatePattern Month = LocalDatePattern.CreateWithInvariantCulture("uuuu-MM");

    /// <summary>Its last local date.</summary>
    public LocalDate Last => Kind switch
    {
        PeriodKind.Day => First,
        PeriodKind.Week => First.PlusDays(6),
        _ => First.With(DateAdjusters.EndOfMonth),
    };

    /// <summary>The period of that kind that holds <paramref name="date"/>.</summary>
    public static CalendarPeriod Holding(PeriodKind kind, LocalDate date) => new(kind, kind switch
    {
        PeriodKind.Day => date,
        PeriodKind.Week => date.With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday)),
        _ => date.With(DateAdjusters.StartOfMonth),
    });

    /// <summary>Reads one; null when the text is none, or lies outside 1970 to 2199.</summary>
    public static CalendarPeriod? TryParse(string? text)
    {
        CalendarPeriod? read = text switch
        {
            { Length: 10 } when LocalDatePattern.Iso.Parse(text) is { Success: true, Value: var day } =>
                new(PeriodKind.Day, day),
            { Length: 8 } when TryReadWeek(text) is { } monday => new(PeriodKind.Week, monday),
            { Length: 7 } when Month.Parse(text) is { Success: true, Value: var month } =>
                new(PeriodKind.Month, month),
            _ => null,
        };

        return read is { First.Year: >= EarliestYear and <= LatestYear } ? read : null;
    }

    /// <summary>How many periods of its kind have ended from its own on, up to <paramref name="today"/>.</summary>
    public int EndedBy(LocalDate today) => today <= Last ? 0 : Kind switch
    {
        PeriodKind.Day => NodaTime.Period.DaysBetween(First, today),
        PeriodKind.Week => NodaTime.Period.DaysBetween(First, Holding(Kind, today).First) / 7,
        _ => NodaTime.Period.Between(First, Holding(Kind, today).First, PeriodUnits.Months).Months,
    };

    /// <inheritdoc />
    public override string ToString() => Kind switch
    {
        PeriodKind.Day => LocalDatePattern.Iso.Format(First),
        PeriodKind.Week => string.Create(
            CultureInfo.InvariantCulture,
            $"{WeekYearRules.Iso.GetWeekYear(First):0000}-W{WeekYearRules.Iso.GetWeekOfWeekYear(First):00}"),
        _ => Month.Format(First),
    };

    private static LocalDate? TryReadWeek(string text)
    {
        var isWeek = int.TryParse(text.AsSpan(0, 4), NumberStyles.None, CultureInfo.InvariantCulture, out var year)
            & int.TryParse(text.AsSpan(6, 2), NumberStyles.None, CultureInfo.InvariantCulture, out var week)
            && text[4..6] == "-W" && year is >= EarliestYear and <= LatestYear
            && week >= 1 && week <= WeekYearRules.Iso.GetWeeksInWeekYear(year);

        return isWeek ? WeekYearRules.Iso.GetLocalDate(year, week, IsoDayOfWeek.Monday) : null;
    }
}

/// <summary>How long a period is.</summary>
public enum PeriodKind
{
    /// <summary>One local date.</summary>
    Day,

    /// <summary>Monday to Sunday.</summary>
    Week,

    /// <summary>A calendar month.</summary>
    Month,
}
