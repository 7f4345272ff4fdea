using Refit;

namespace Releasekit.Client.Sheets;

/// <summary>A year, a month or a week on one page. Dates and times are the publisher's local ones.</summary>
public interface ISheets
{
    /// <summary>A year.</summary>
    [Get("/v1/sheets/year/{year}")]
    Task<IApiResponse<YearSheet>> Year(int year, CancellationToken cancel = default);

    /// <summary>A month.</summary>
    /// <param name="month">Such as 2026-03.</param>
    [Get("/v1/sheets/month/{month}")]
    Task<IApiResponse<MonthSheet>> Month(string month, CancellationToken cancel = default);

    /// <summary>An ISO week.</summary>
    /// <param name="week">Such as 2026-W10.</param>
    [Get("/v1/sheets/week/{week}")]
    Task<IApiResponse<WeekSheet>> Week(string week, CancellationToken cancel = default);
}
