using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>PATCH /v1/projects/{id}/steps/{step}: another wording or date, done or open again.</summary>
internal static class ChangeStep
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPatch("/{id:guid}/steps/{step}", Handle)
        .WithName("changeStep")
        .WithSummary("Change or tick a step")
        .WithDescription(
            "A JSON Merge Patch; \"done\" ticks and unticks. If-Match takes the ETag of the project, which is "
                + "answered.")
        .Answers(200, 404, 409, 412, 422, 428)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, string step, MergePatch<StepValues> patch, Caller caller, HttpRequest request, ProjectWrites projects,
        CancellationToken cancel) =>
        projects.Change(caller, id, request, project => Change(project, step, patch), cancel);

    private static Problem? Change(ProjectAtHand project, string step, MergePatch<StepValues> patch)
    {
        // A step that is not there is refused whatever is asked of it.
        var current = project.State.FindStep(step) is { } known ? StepValues.Of(known) : new(step);
        var values = patch.ApplyTo(current);

        return project.Append(StepDecider.Change(
            project.State, step, new(values.What, values.When, values.Note, values.Effort), values.Done, project.Now));
    }
}

/// <summary>What of a step can be changed.</summary>
/// <param name="What">One line, 1 to 200 characters.</param>
/// <param name="When">The local date it is meant for; null for none.</param>
/// <param name="Note">Null for none.</param>
/// <param name="Done">true ticks it now, false opens it again.</param>
/// <param name="Effort">A guess of the working time it takes; null for none.</param>
internal sealed record StepValues(
    string What, LocalDate? When = null, string? Note = null, bool Done = false, Duration? Effort = null)
{
    public static StepValues Of(Step step) =>
        new(step.What, step.When, step.Note, step.DoneAt is not null, step.Effort);
}
