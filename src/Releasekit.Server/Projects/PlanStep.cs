using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects/{id}/steps: plans what is to do, and when.</summary>
internal static class PlanStep
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/{id:guid}/steps", Handle)
        .WithName("planStep")
        .WithSummary("Plan a step")
        .WithDescription(
            "At the end of the steps, for a candidate too; the project is answered. A date after finishBy is taken "
                + "and shown as such.")
        .Answers(201, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, PlanStepRequest body, Caller caller, ProjectWrites projects, Ledger ledger,
        CancellationToken cancel) =>
        ledger.Write<ProjectBody>(
            caller.Publisher,
            async unit =>
            {
                if (await projects.Find(unit, id) is not { } project)
                {
                    return Problems.NotFound("project of that id");
                }

                var terms = new StepTerms(body.What, body.When, body.Note, body.Effort);

                return project.Append(StepDecider.Plan(project.State, terms, project.Now)) is { } problem
                    ? problem
                    : Http.Answers.Created(
                        $"/v1/projects/{id}/steps/{project.State.Steps[^1].Key}", project.Show());
            },
            cancel);
}

/// <param name="What">One line, 1 to 200 characters.</param>
/// <param name="When">The local date it is meant for.</param>
/// <param name="Note">What is to be remembered about it.</param>
/// <param name="Effort">A guess of the working time it takes; once the project is started it counts in
/// capacity.</param>
internal sealed record PlanStepRequest(
    string What, LocalDate? When = null, string? Note = null, Duration? Effort = null);
