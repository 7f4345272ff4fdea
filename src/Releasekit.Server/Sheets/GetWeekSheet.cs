using Releasekit.Domain.Sheets;
using Releasekit.Server.Access;
using Releasekit.Server.Pages;

namespace Releasekit.Server.Sheets;

/// <summary>GET /v1/sheets/week/{week}: a week on one page.</summary>
internal static class GetWeekSheet
{
    public static void Map(IEndpointRouteBuilder sheets) => sheets
        .MapGet("/week/{week}", (
            WeekParameter week, Caller caller, HttpContext http, SheetsOnRequest made) => made.Answer(
                http, caller, new SheetAddress.Week(week.Monday, false), week.Monday, week.Monday.PlusDays(7),
                facts => WeekSheet.Of(facts, week.Monday)))
        .WithName("getWeekSheet")
        .WithSummary("Read the sheet of a week")
        .WithDescription("""
            The days of an ISO week: what is promised, what was done, and from now on when to work on what, as the open
            work is laid into the hours that are left; tasks, appointments, notes, and which slots cannot be met. The
            laying knows nothing of rest: full hours in it are no advice to work them. With "Accept: text/html" the same
            as one page to look at and print; /week shows it to a browser that is signed in, /week/list as one list.
            """)
        .Needs(Scope.Read);
}
