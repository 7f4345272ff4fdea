using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>PATCH /v1/projects/{id}: another title, rank or note; once started, another goal or date.</summary>
internal static class ChangeProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPatch("/{id:guid}", Handle)
        .WithName("changeProject")
        .WithSummary("Change a project")
        .WithDescription(
            "A JSON Merge Patch. Another \"finishBy\", with or without \"finishByReason\", is kept as a move; "
                + "\"promisedBy\" stays what was promised first. Goal and finishBy change while it is started only.")
        .Answers(200, 404, 409, 412, 422, 428)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, MergePatch<ProjectValues> patch, Caller caller, HttpRequest request, ProjectWrites projects,
        CancellationToken cancel) =>
        projects.Change(
            caller,
            id,
            request,
            project =>
            {
                var values = patch.ApplyTo(ProjectValues.Of(project.State));
                var (now, today) = (project.Now, project.Publisher.DateAt(project.Now));

                return project.Append(ProjectDecider.Retitle(project.State, values.Title, now))
                    ?? project.Append(ProjectDecider.Rank(project.State, values.Rank, now))
                    ?? project.Append(ProjectDecider.ChangeNote(project.State, values.Note, now))
                    ?? project.Append(ProjectDecider.ChangeGoal(project.State, values.Goal, now))
                    ?? project.Append(ProjectDecider.MoveFinishBy(
                        project.State, values.FinishBy, values.FinishByReason, today, now));
            },
            cancel);
}

/// <summary>What of a project can be changed.</summary>
/// <param name="Title">One line, 1 to 200 characters.</param>
/// <param name="Rank">1 to 3, 3 the highest; null: 2.</param>
/// <param name="Note">Null for none.</param>
/// <param name="Goal">What will be there when it is finished.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished; today or later.</param>
/// <param name="FinishByReason">Why finishBy moves; goes with another finishBy only.</param>
internal sealed record ProjectValues(
    string Title,
    int Rank = ProjectDecider.UsualRank,
    string? Note = null,
    string? Goal = null,
    LocalDate? FinishBy = null,
    string? FinishByReason = null)
{
    public static ProjectValues Of(Project project) =>
        new(project.Title, project.Rank, project.Note, project.Goal, project.FinishBy);
}
