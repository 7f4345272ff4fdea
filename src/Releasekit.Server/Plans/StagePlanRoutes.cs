namespace Releasekit.Server.Plans;

/// <summary>Every route of stage plans.</summary>
internal static class StagePlanRoutes
{
    public static void MapStagePlans(this IEndpointRouteBuilder api)
    {
        var plans = api.MapGroup("/stage-plans").WithTags("Stage plans");

        CreateStagePlan.Map(plans);
        ListStagePlans.Map(plans);
        GetStagePlan.Map(plans);
        ReplaceStagePlan.Map(plans);
    }
}
