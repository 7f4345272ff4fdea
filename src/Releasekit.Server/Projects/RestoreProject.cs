using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects/{id}/restore: a dropped project is again what it was.</summary>
internal static class RestoreProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/{id:guid}/restore", Handle)
        .WithName("restoreProject")
        .WithSummary("Restore a dropped project")
        .WithDescription(
            "It is a candidate or started, as before it was dropped. A second time changes nothing.")
        .Answers(200, 404)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, Caller caller, ProjectWrites projects, CancellationToken cancel) =>
        projects.Change(
            caller, id, request: null, project => project.Append(ProjectDecider.Restore(project.State, project.Now)),
            cancel);
}
