namespace Releasekit.Server.Search;

/// <summary>The route of search.</summary>
internal static class SearchRoutes
{
    public static void MapSearch(this IEndpointRouteBuilder api) =>
        GetSearch.Map(api.MapGroup("/search").WithTags("Search"));
}
