using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Plans;

/// <summary>POST /v1/stage-plans: the first version of a stage plan.</summary>
internal static class CreateStagePlan
{
    public static void Map(IEndpointRouteBuilder plans) => plans
        .MapPost("/", Handle)
        .WithName("createStagePlan")
        .WithSummary("Create a stage plan")
        .WithDescription("Exactly one stage is the publication; the stages may not follow each other in a circle.")
        .Answers(201, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<StagePlanBody>> Handle(
        CreateStagePlanRequest body, Caller caller, Ledger ledger, CancellationToken cancel)
    {
        var plan = new StagePlan(body.Id, body.Name ?? body.Id, 1, PlannedStageBody.ToStages(body.Stages));

        return ledger.Write<StagePlanBody>(caller.Publisher, async unit =>
        {
            if (StagePlanRules.Check(plan) is { } refusal)
            {
                return Problems.Of(refusal);
            }

            if (await unit.Documents.LoadAsync<StagePlanVersions>(plan.Id, cancel) is not null)
            {
                return Problems.Of(
                    "exists", $"There is a stage plan '{plan.Id}' already; PUT makes a new version of it.");
            }

            unit.Documents.Insert(new StagePlanVersions(plan.Id, [plan]));
            return Http.Answers.Created($"/v1/stage-plans/{plan.Id}", StagePlanBody.Of(plan));
        }, cancel);
    }
}

/// <param name="Id">A slug, unique among the publisher's plans.</param>
/// <param name="Stages">In working order, at least one; exactly one is the publication.</param>
/// <param name="Name">The id when left out.</param>
internal sealed record CreateStagePlanRequest(string Id, IReadOnlyList<PlannedStageBody> Stages, string? Name = null);
