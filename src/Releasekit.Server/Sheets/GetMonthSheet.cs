using Releasekit.Domain.Sheets;
using Releasekit.Server.Access;
using Releasekit.Server.Pages;

namespace Releasekit.Server.Sheets;

/// <summary>GET /v1/sheets/month/{month}: a month on one page.</summary>
internal static class GetMonthSheet
{
    public static void Map(IEndpointRouteBuilder sheets) => sheets
        .MapGet("/month/{month}", (
            MonthParameter month, Caller caller, HttpContext http, SheetsOnRequest made) => made.Answer(
                http, caller, new SheetAddress.Month(month.First), month.First, month.First.PlusMonths(1),
                facts => MonthSheet.Of(facts, month.First)))
        .WithName("getMonthSheet")
        .WithSummary("Read the sheet of a month")
        .WithDescription("""
            A line for each day with slots, appointments and what must be done by then; releases by stages; tasks,
            warnings and the latest ideas. Dates and times are the publisher's local ones. With "Accept: text/html" the
            same as one page to look at and print; /month shows it to a browser that is signed in, where stages and
            tasks are ticked.
            """)
        .Needs(Scope.Read);
}
