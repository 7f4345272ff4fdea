using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects/{id}/drop: the project is given up.</summary>
internal static class DropProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/{id:guid}/drop", Handle)
        .WithName("dropProject")
        .WithSummary("Drop a project")
        .WithDescription(
            "A candidate or a started one; it can be restored. If it was started it goes on counting in its year. A "
                + "second time changes nothing. No body is needed.")
        .Answers(200, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, DropProjectRequest? body, Caller caller, ProjectWrites projects, CancellationToken cancel) =>
        projects.Change(
            caller,
            id,
            request: null,
            project => project.Append(ProjectDecider.Drop(project.State, body?.Reason, project.Now)),
            cancel);
}

/// <param name="Reason">Why, when it is to be remembered.</param>
internal sealed record DropProjectRequest(string? Reason = null);
