using Releasekit.Server.Http;

namespace Releasekit.Server.Docs;

/// <summary>GET /docs/problems and /docs/problems/{code}: what every kind of problem means and what to do.</summary>
internal static class ShowProblems
{
    public static void Map(IEndpointRouteBuilder pages)
    {
        pages.MapGet("/docs/problems", (HttpContext http) => All().Answer(http));
        pages.MapGet("/docs/problems/{code}", One);
    }

    private static Page All()
    {
        var page = new Page("Problems").Open("p").Link("/docs", "All of the service").Close("p").Add("h1", "Problems");
        page.Add(
            "p",
            "Every error is answered as application/problem+json (RFC 9457). "
            + "Its type is the address of one of these; the code never changes its meaning.");
        page.Open("table");

        foreach (
            var kind in ProblemCatalog.Kinds.OrderBy(kind => kind.Status).ThenBy(
                kind => kind.Code, StringComparer.Ordinal))
        {
            page.Open("tr").Add("td", $"{kind.Status}").Open("td").Link(
                $"/docs/problems/{kind.Code}", kind.Code).Close("td")
                .Add("td", kind.Title).Close("tr");
        }

        return page.Close("table");
    }

    private static IResult One(string code, HttpContext http)
    {
        if (ProblemCatalog.Kinds.FirstOrDefault(kind => kind.Code == code) is not { } kind)
        {
            http.Response.StatusCode = StatusCodes.Status404NotFound;
            return new Page("No such problem").Add("h1", "No such problem").Open("p").Link(
                "/docs/problems", "All problems").Close("p").Answer(http);
        }

        return new Page(kind.Title)
            .Open("p").Link("/docs/problems", "All problems").Close("p")
            .Add("h1", kind.Title)
            .Open("p").Add("code", kind.Code).Text($", answered with {kind.Status}").Close("p")
            .Add("p", kind.Meaning)
            .Answer(http);
    }
}
