using System.Diagnostics.CodeAnalysis;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Sheets;

/// <summary>A month in an address: 2026-03.</summary>
internal readonly record struct MonthParameter(LocalDate First) : IParsable<MonthParameter>
{
    public static MonthParameter Parse(string s, IFormatProvider? provider) =>
        TryParse(s, provider, out var read) ? read : throw new FormatException(s);

    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out MonthParameter result)
    {
        var read = CalendarPeriod.TryParse(s);
        result = new(read?.First ?? default);
        return read is { Kind: PeriodKind.Month };
    }
}

/// <summary>An ISO week in an address: 2026-W10.</summary>
internal readonly record struct WeekParameter(LocalDate Monday) : IParsable<WeekParameter>
{
    public static WeekParameter Parse(string s, IFormatProvider? provider) =>
        TryParse(s, provider, out var read) ? read : throw new FormatException(s);

    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out WeekParameter result)
    {
        var read = CalendarPeriod.TryParse(s);
        result = new(read?.First ?? default);
        return read is { Kind: PeriodKind.Week };
    }
}

/// <summary>A year in an address: 2026.</summary>
internal readonly record struct YearParameter(int Year) : IParsable<YearParameter>
{
    public static YearParameter Parse(string s, IFormatProvider? provider) =>
        TryParse(s, provider, out var read) ? read : throw new FormatException(s);

    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out YearParameter result)
    {
        var read = s is { Length: 4 } ? CalendarPeriod.TryParse($"{s}-01") : null;
        result = new(read?.First.Year ?? default);
        return read is not null;
    }
}
