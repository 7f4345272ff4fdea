using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects/{id}/finish: the project is done.</summary>
internal static class FinishProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/{id:guid}/finish", Handle)
        .WithName("finishProject")
        .WithSummary("Finish a project")
        .WithDescription(
            "Steps that are open stay open. \"at\" tells an earlier time, from the start on. The same finish again "
                + "changes nothing; a wrong one is taken back by reopening. No body is needed.")
        .Answers(200, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, FinishProjectRequest? body, Caller caller, ProjectWrites projects, CancellationToken cancel) =>
        projects.Change(
            caller,
            id,
            request: null,
            project => project.Append(ProjectDecider.Finish(project.State, body?.Outcome, body?.At, project.Now)),
            cancel);
}

/// <param name="At">When it was finished; now when left out.</param>
/// <param name="Outcome">What came of it.</param>
internal sealed record FinishProjectRequest(Instant? At = null, string? Outcome = null);
