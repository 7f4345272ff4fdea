namespace Releasekit.Server.Events;

/// <summary>Every route of events.</summary>
internal static class EventRoutes
{
    public static void MapEvents(this IEndpointRouteBuilder api) =>
        ListEvents.Map(api.MapGroup("/events").WithTags("Events"));
}
