using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects/{id}/reopen: a finish was a mistake.</summary>
internal static class ReopenProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/{id:guid}/reopen", Handle)
        .WithName("reopenProject")
        .WithSummary("Take a finish back")
        .WithDescription("The project is started as it was before. A started project stays as it is.")
        .Answers(200, 404, 409)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, Caller caller, ProjectWrites projects, CancellationToken cancel) =>
        projects.Change(
            caller, id, request: null, project => project.Append(ProjectDecider.Reopen(project.State, project.Now)),
            cancel);
}
