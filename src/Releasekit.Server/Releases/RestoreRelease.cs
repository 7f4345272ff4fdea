using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Schedule;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>POST /v1/releases/{id}/restore: a dropped release is worked on again.</summary>
internal static class RestoreRelease
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPost("/{id:guid}/restore", Handle)
        .WithName("restoreRelease")
        .WithSummary("Restore a dropped release")
        .WithDescription(
            "It gets its slot back, unless another release holds it or it is gone: then it has none. A second time "
                + "changes nothing.")
        .Answers(200, 404)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        Guid id, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            if (await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            var now = clock.Now;
            var isTaken = false;

            if (release.State is { DroppedFor: not null, Slot: { } slot })
            {
                var series = (await unit.SeriesExclusively(release.State.Series))!;
                isTaken = await SlotClaims.Check(unit, series.State, slot, id, "/slot", cancel) is not null;
            }

            return release.Append(ReleaseDecider.Restore(release.State, isTaken, now)) is { } refusal
                ? Problems.Of(refusal)
                : await new ReleaseView(unit.Documents, now, cancel).Show(release.State);
        }, cancel);
}
