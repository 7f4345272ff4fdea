using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>DELETE /v1/projects/{id}/steps/{step}: takes a step out of the project.</summary>
internal static class RemoveStep
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapDelete("/{id:guid}/steps/{step}", Handle)
        .WithName("removeStep")
        .WithSummary("Remove a step")
        .WithDescription(
            "The history keeps it, and its key is not given again. If-Match takes the ETag of the project, which is "
                + "answered.")
        .Answers(200, 404, 409, 412, 428)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, string step, Caller caller, HttpRequest request, ProjectWrites projects, CancellationToken cancel) =>
        projects.Change(
            caller, id, request, project => project.Append(StepDecider.Remove(project.State, step, project.Now)),
            cancel);
}
