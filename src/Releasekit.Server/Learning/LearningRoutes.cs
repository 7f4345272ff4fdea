namespace Releasekit.Server.Learning;

/// <summary>What is learnt from how a series went.</summary>
internal static class LearningRoutes
{
    public static void MapLearning(this IEndpointRouteBuilder api)
    {
        var series = api.MapGroup("/series").WithTags("Learning");

        GetLearning.Map(api.MapGroup("/learning").WithTags("Learning"));
        GetFlow.Map(series);
        GetChart.Map(series);
        GetSeriesForecast.Map(series);
        GetCalibration.Map(series);
        GetBank.Map(series);
        GetTimeliness.Map(api.MapGroup("/projects").WithTags("Learning"));
        GetReleaseForecast.Map(api.MapGroup("/releases").WithTags("Learning"));
    }
}
