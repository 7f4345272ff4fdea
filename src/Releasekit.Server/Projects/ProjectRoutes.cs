namespace Releasekit.Server.Projects;

/// <summary>Every route of projects, in the order a project meets them.</summary>
internal static class ProjectRoutes
{
    public static IServiceCollection AddProjects(this IServiceCollection services) =>
        services.AddSingleton<ProjectWrites>();

    public static void MapProjects(this IEndpointRouteBuilder api)
    {
        var projects = api.MapGroup("/projects").WithTags("Projects");

        ProposeProject.Map(projects);
        ListProjects.Map(projects);
        GetProject.Map(projects);
        ChangeProject.Map(projects);
        StartProject.Map(projects);
        PlanStep.Map(projects);
        ChangeStep.Map(projects);
        RemoveStep.Map(projects);
        FinishProject.Map(projects);
        ReopenProject.Map(projects);
        DropProject.Map(projects);
        RestoreProject.Map(projects);
        GetProjectHistory.Map(projects);
    }
}
