namespace Releasekit.Server.Schedule;

/// <summary>Every route of series, their cadence, breaks and slots.</summary>
internal static class ScheduleRoutes
{
    public static void MapSchedule(this IEndpointRouteBuilder api)
    {
        var series = api.MapGroup("/series").WithTags("Series");

        OpenSeries.Map(series);
        ListSeries.Map(series);
        GetSeries.Map(series);
        ChangeSeries.Map(series);
        SetCadence.Map(series);
        PlanBreak.Map(series);
        CancelBreak.Map(series);
        CloseSeries.Map(series);
        ListSlots.Map(series);
        ChangeSlot.Map(series);
        GetAdherence.Map(series);
    }
}
