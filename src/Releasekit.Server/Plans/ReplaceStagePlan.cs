using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Plans;

/// <summary>PUT /v1/stage-plans/{plan}: a new version of the plan. Releases keep the version they have.</summary>
internal static class ReplaceStagePlan
{
    public static void Map(IEndpointRouteBuilder plans) => plans
        .MapPut("/{plan}", Handle)
        .WithName("replaceStagePlan")
        .WithSummary("Make a new version of a stage plan")
        .WithDescription("Releases keep the version they were planned with; PATCH of a release adopts a newer one.")
        .Answers(200, 404, 412, 422, 428)
        .Needs(Scope.Write);

    private static Task<Answer<StagePlanBody>> Handle(
        string plan, ReplaceStagePlanRequest body, Caller caller, HttpRequest request, Ledger ledger,
        CancellationToken cancel) =>
        ledger.Write<StagePlanBody>(caller.Publisher, async unit =>
        {
            if (await unit.Documents.LoadAsync<StagePlanVersions>(plan, cancel) is not { } known)
            {
                return Problems.NotFound($"stage plan '{plan}'");
            }

            if (ETags.CheckIfMatch(request, StagePlanBody.Of(known.Latest)) is { } stale)
            {
                return stale;
            }

            var next = new StagePlan(
                plan, body.Name ?? known.Latest.Name, known.Latest.Version + 1, PlannedStageBody.ToStages(body.Stages));

            if (StagePlanRules.Check(next) is { } refusal)
            {
                return Problems.Of(refusal);
            }

            var same = StagePlanBody.Of(next with { Version = known.Latest.Version });

            if (ETags.Of(same) == ETags.Of(StagePlanBody.Of(known.Latest)))
            {
                return StagePlanBody.Of(known.Latest);
            }

            unit.Documents.Store(known with { Versions = [.. known.Versions, next] });
            return StagePlanBody.Of(next);
        }, cancel);
}

/// <param name="Stages">All of them, in working order; exactly one is the publication.</param>
/// <param name="Name">Kept when left out.</param>
/// <param name="Id">May stand here as GET shows it; the address decides.</param>
/// <param name="Version">May stand here as GET shows it; the service counts.</param>
internal sealed record ReplaceStagePlanRequest(
    IReadOnlyList<PlannedStageBody> Stages, string? Name = null, string? Id = null, int? Version = null);
