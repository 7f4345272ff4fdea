using Releasekit.Server.Access;

namespace Releasekit.Server.Sheets;

/// <summary>Every route of sheets.</summary>
internal static class SheetRoutes
{
    public static void MapSheets(this IEndpointRouteBuilder api)
    {
        var sheets = api.MapGroup("/sheets").WithTags("Sheets").ForPeople();

        GetYearSheet.Map(sheets);
        GetMonthSheet.Map(sheets);
        GetWeekSheet.Map(sheets);
    }
}
