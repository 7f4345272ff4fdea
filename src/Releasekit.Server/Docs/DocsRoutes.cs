using Releasekit.Server.Access;

namespace Releasekit.Server.Docs;

/// <summary>The pages for people: what the service does, every route, every kind of problem.</summary>
internal static class DocsRoutes
{
    public static void MapDocs(this IEndpointRouteBuilder routes)
    {
        var pages = routes.MapGroup(string.Empty).NeedsNoToken().ExcludeFromDescription();

        ShowDocs.Map(pages);
        ShowProblems.Map(pages);
        ShowStatistics.Map(pages);
    }
}
