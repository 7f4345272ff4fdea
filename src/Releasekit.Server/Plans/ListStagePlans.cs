using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Plans;

/// <summary>GET /v1/stage-plans: the latest version of every stage plan, by id.</summary>
internal static class ListStagePlans
{
    public static void Map(IEndpointRouteBuilder plans) => plans
        .MapGet("/", Handle)
        .WithName("listStagePlans")
        .WithSummary("List stage plans")
        .WithDescription("The latest version of each, by id.")
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<StagePlanBody>>> Handle(
        [AsParameters] PageQuery page, Caller caller, HttpContext http, IDocumentStore store, CancellationToken cancel)
    {
        if (page.Read<string>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var plans = await session.Query<StagePlanVersions>()
            .Where(plan => after == null || plan.Id.CompareTo(after) > 0)
            .OrderBy(plan => plan.Id)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        return page.Page(http, plans, plan => StagePlanBody.Of(plan.Latest), plan => plan.Id);
    }
}
