using Releasekit.Domain.Sheets;
using Releasekit.Server.Access;
using Releasekit.Server.Pages;

namespace Releasekit.Server.Sheets;

/// <summary>GET /v1/sheets/year/{year}: a year on one page.</summary>
internal static class GetYearSheet
{
    public static void Map(IEndpointRouteBuilder sheets) => sheets
        .MapGet("/year/{year}", (
            YearParameter year, Caller caller, HttpContext http, SheetsOnRequest made) => made.Answer(
                http, caller, new SheetAddress.Year(year.Year), new(year.Year, 1, 1), new(year.Year + 1, 1, 1),
                facts => YearSheet.Of(facts, year.Year)))
        .WithName("getYearSheet")
        .WithSummary("Read the sheet of a year")
        .WithDescription("""
            What was promised in each month and what became of it, the big things of the months, projects under way and
            candidates. Dates and times are the publisher's local ones. With "Accept: text/html" the same as one page to
            look at and print; /year shows it to a browser that is signed in.
            """)
        .Needs(Scope.Read);
}
