using Marten;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects/{id}/start: a candidate is taken on, within the limit of the year.</summary>
internal static class StartProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/{id:guid}/start", Handle)
        .WithName("startProject")
        .WithSummary("Start a project")
        .WithDescription("""
            Gives a candidate its goal and the local date by whose end it shall be finished, after today. Under four
            weeks it is refused unless "anyway" is true. No more than the publisher's "projectsAYear" are started in a
            calendar year of its zone; those finished or dropped since count. The same start again changes nothing.
            """)
        .Answers(200, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        Guid id, StartProjectRequest body, Caller caller, ProjectWrites projects, Ledger ledger,
        CancellationToken cancel) =>
        ledger.Write<ProjectBody>(
            caller.Publisher,
            async unit =>
            {
                await unit.OneAtATime("project starts");

                if (await projects.Find(unit, id) is not { } project)
                {
                    return Problems.NotFound("project of that id");
                }

                var year = ProjectStart.YearOf(project.Publisher, project.Now);
                var (begin, end) = (year.Start, year.End);
                var started = await unit.Documents.Query<Project>()
                    .Where(other => other.StartedAt >= begin && other.StartedAt < end)
                    .OrderBy(other => other.StartedAt)
                    .ToListAsync(cancel);

                return project.Append(ProjectStart.Decide(
                    project.State, body.ToTerms(), project.Publisher, [.. started.Select(other => other.Title)],
                    project.Now)) is { } problem
                    ? problem
                    : project.Show();
            },
            cancel);
}

/// <param name="Goal">What will be there when it is finished.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished; after today.</param>
/// <param name="Anyway">true: it may be shorter than four weeks.</param>
internal sealed record StartProjectRequest(string Goal, LocalDate FinishBy, bool Anyway = false)
{
    public StartTerms ToTerms() => new(Goal, FinishBy, Anyway);
}
