namespace Releasekit.Server.Imports;

/// <summary>Every route of imports.</summary>
internal static class ImportRoutes
{
    public static void MapImports(this IEndpointRouteBuilder api)
    {
        var imports = api.MapGroup("/imports").WithTags("Imports");

        StartImport.Map(imports);
        GetImport.Map(imports);
    }

    public static IServiceCollection AddImports(this IServiceCollection services) => services
        .AddSingleton<ImportTurns>()
        .AddSingleton<ImportSteps>()
        .AddSingleton<ImportBatches>()
        .AddHostedService<ImportWorker>();
}
