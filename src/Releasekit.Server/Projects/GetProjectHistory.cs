using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Releases;
using Releasekit.Server.Store;

namespace Releasekit.Server.Projects;

/// <summary>GET /v1/projects/{id}/history: everything that was recorded of a project.</summary>
internal static class GetProjectHistory
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapGet("/{id:guid}/history", Handle)
        .WithName("getProjectHistory")
        .WithSummary("Read the history of a project")
        .WithDescription("Every event in the order it was recorded; nothing is ever rewritten.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<HistoryEntryBody>>> Handle(
        Guid id, [AsParameters] PageQuery page, Caller caller, HttpContext http, IDocumentStore store,
        CancellationToken cancel)
    {
        if (page.Read<long>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var events = await ProjectEventsOf.Load(session, id, cancel);
        var rest = events.Where(e => e.Sequence > after).Take(page.Size + 1).ToArray();

        return events.Count == 0
            ? Problems.NotFound("project of that id")
            : page.Page(
                http,
                rest,
                e => HistoryEntryBody.Of(e.Sequence, e.Event, e.Event.OccurredAt, e.Event.RecordedAt),
                e => e.Sequence);
    }
}
