using System.Reflection;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace Releasekit.Server.Docs;

/// <summary>GET /docs: the contract as a page for people, rendered here from the contract itself.</summary>
internal static class ShowDocs
{
    public static void Map(IEndpointRouteBuilder pages)
    {
        pages.MapGet("/docs", Handle);
        pages.MapGet("/assets/docs.css", Style);
    }

    private static async Task<IResult> Handle(
        HttpContext http, [FromKeyedServices(Contract.Name)] IOpenApiDocumentProvider provider,
        CancellationToken cancel)
    {
        var document = await provider.GetOpenApiDocumentAsync(cancel);
        var contract = JsonNode.Parse(await document.SerializeAsJsonAsync(OpenApiSpecVersion.OpenApi3_1, cancel))!;

        return DocsPage.Of(contract, $"{http.Request.Scheme}://{http.Request.Host}").Answer(http);
    }

    private static FileStreamHttpResult Style(HttpContext http)
    {
        http.Response.Headers.CacheControl = "public, max-age=3600";
        return TypedResults.Stream(
            Assembly.GetExecutingAssembly().GetManifestResourceStream("docs.css")!, "text/css; charset=utf-8");
    }
}
