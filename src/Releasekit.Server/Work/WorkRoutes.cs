using Releasekit.Server.Entries;

namespace Releasekit.Server.Work;

/// <summary>Every route of tasks and appointments.</summary>
internal static class WorkRoutes
{
    public static void MapWork(this IEndpointRouteBuilder api)
    {
        var kind = new TaskKind();
        var tasks = api.MapEntries(kind, "Tasks");
        ListTasks.Map(tasks, kind);
        CompleteTask.Map(tasks, kind);
        SetRecurrence.Map(tasks, kind);

        ListAppointments.Map(api.MapEntries(new AppointmentKind(), "Appointments"));
    }
}
