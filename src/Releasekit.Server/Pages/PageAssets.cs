using System.Reflection;
using Releasekit.Server.Access;

namespace Releasekit.Server.Pages;

/// <summary>GET /assets/sheets.css and /assets/mark.svg: how the pages look, on screens and on paper.</summary>
internal static class PageAssets
{
    private static readonly Assembly Here = Assembly.GetExecutingAssembly();

    /// <summary>The address of the style; another one with every build, so that browsers may keep it.</summary>
    public static string Style { get; } = $"/assets/sheets.css?{Here.ManifestModule.ModuleVersionId:N}";

    public static void Map(IEndpointRouteBuilder pages)
    {
        Map(pages, "sheets.css", "text/css; charset=utf-8");
        Map(pages, "mark.svg", "image/svg+xml");
    }

    private static void Map(IEndpointRouteBuilder pages, string name, string type) =>
        pages.MapGet($"/assets/{name}", (HttpContext http) =>
        {
            http.Response.Headers.CacheControl = "public, max-age=604800";
            return TypedResults.Stream(Here.GetManifestResourceStream(name)!, type);
        }).NeedsNoToken();
}
