using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>GET /v1/projects/{id}: a project with its steps, its moves and its progress.</summary>
internal static class GetProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapGet("/{id:guid}", Handle)
        .WithName("getProject")
        .WithSummary("Read a project")
        .WithDescription(
            "With its steps, every move of the date to finish by, and how much is done with how much of the time "
                + "used. Time used grows by the day, so the ETag stays for that long.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<ProjectBody>> Handle(
        Guid id, Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);

        return await session.LoadAsync<Project>(id, cancel) is { } project
            ? ProjectBody.Of(project, (await session.LoadAsync<Publisher>(caller.Publisher, cancel))!, clock.Now)
            : Problems.NotFound("project of that id");
    }
}
