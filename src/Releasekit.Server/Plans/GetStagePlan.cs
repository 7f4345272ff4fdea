using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Plans;

/// <summary>GET /v1/stage-plans/{plan}: the latest version of a stage plan, or an earlier one.</summary>
internal static class GetStagePlan
{
    public static void Map(IEndpointRouteBuilder plans) => plans
        .MapGet("/{plan}", Handle)
        .WithName("getStagePlan")
        .WithSummary("Read a stage plan")
        .WithDescription("The latest version, or the one asked for.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<StagePlanBody>> Handle(
        string plan, [FromQuery] int? version, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);
        var known = await session.LoadAsync<StagePlanVersions>(plan, cancel);
        var found = version is { } number ? known?.Find(number) : known?.Latest;

        return found is null ? Problems.NotFound($"stage plan '{plan}' of that version") : StagePlanBody.Of(found);
    }
}
