using Releasekit.Domain.Work;
using Releasekit.Server.Sheets;

namespace Releasekit.Server.Pages;

/// <summary>Which page: a sheet, or a release with its stages.</summary>
internal abstract record SheetAddress
{
    /// <summary>A year; null for the current one.</summary>
    internal sealed record Year(int? Number) : SheetAddress;

    /// <summary>A month by its first date; null for the current one.</summary>
    internal sealed record Month(LocalDate? First) : SheetAddress;

    /// <summary>A week by its Monday, null for the current one; as boxes or as one list.</summary>
    internal sealed record Week(LocalDate? Monday, bool IsList) : SheetAddress;

    /// <summary>A release.</summary>
    internal sealed record Release(Guid Id) : SheetAddress;

    /// <summary>Reads the path of a page; the current month where it is none.</summary>
    public static SheetAddress Of(string? path) => (path ?? string.Empty).Trim('/').Split('/') switch
    {
        ["year"] => new Year(null),
        ["year", var year] when YearParameter.TryParse(year, null, out var read) => new Year(read.Year),
        ["month", var month] when MonthParameter.TryParse(month, null, out var read) => new Month(read.First),
        ["week"] => new Week(null, false),
        ["week", "list"] => new Week(null, true),
        ["week", var week] when WeekParameter.TryParse(week, null, out var read) => new Week(read.Monday, false),
        ["week", var week, "list"] when WeekParameter.TryParse(week, null, out var read) => new Week(read.Monday, true),
        ["releases", var id] when Guid.TryParse(id, out var release) => new Release(release),
        _ => new Month(null),
    };

    /// <summary>Its path.</summary>
    public string Path => this switch
    {
        Year { Number: { } year } => $"/year/{year}",
        Year => "/year",
        Month { First: { } first } => $"/month/{CalendarPeriod.Holding(PeriodKind.Month, first)}",
        Week { Monday: { } monday } week =>
            $"/week/{CalendarPeriod.Holding(PeriodKind.Week, monday)}{(week.IsList ? "/list" : "")}",
        Week week => week.IsList ? "/week/list" : "/week",
        Release release => $"/releases/{release.Id}",
        _ => "/month",
    };
}
