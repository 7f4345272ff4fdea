namespace Releasekit.Server.Planning;

/// <summary>Routes about all open work at once.</summary>
internal static class PlanningRoutes
{
    public static void MapPlanning(this IEndpointRouteBuilder api) =>
        GetCapacity.Map(api.MapGroup("/capacity").WithTags("Planning"));
}
