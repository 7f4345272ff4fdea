using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>PUT /v1/releases/{id}/stages/{stage}/checklist/{item}: ticks or unticks an item.</summary>
internal static class TickChecklistItem
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPut("/{id:guid}/stages/{stage}/checklist/{item}", Handle)
        .WithName("tickChecklistItem")
        .WithSummary("Tick or untick a checklist item")
        .WithDescription("The item is named by its key or its text. Repeating the request changes nothing.")
        .Answers(200, 404, 409)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        Guid id, string stage, string item, TickRequest body, Caller caller, Ledger ledger, ServiceClock clock,
        CancellationToken cancel) =>
        ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            var release = await unit.Release(id);

            if (release?.State.FindStage(stage) is null)
            {
                return Problems.NotFound($"stage '{stage}' of a release of that id");
            }

            var now = clock.Now;
            var refusal = release.Append(StageDecider.Tick(release.State, stage, item, body.Ticked, now));

            return refusal switch
            {
                { Code: "item.unknown" } => Problems.NotFound($"checklist item '{item}' of '{stage}'"),
                { } => Problems.Of(refusal),
                null => await new ReleaseView(unit.Documents, now, cancel).Show(release.State),
            };
        }, cancel);
}

/// <param name="Ticked">true: it is done; false: it is not.</param>
internal sealed record TickRequest(bool Ticked);
