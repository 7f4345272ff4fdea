using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>POST /v1/releases/{id}/drop: the release will not be published; its slot is free.</summary>
internal static class DropRelease
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPost("/{id:guid}/drop", Handle)
        .WithName("dropRelease")
        .WithSummary("Drop a release")
        .WithDescription("Its slot is free for another. It can be restored. A second time changes nothing.")
        .Answers(200, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        Guid id, DropReleaseRequest body, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            if (await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            var now = clock.Now;

            return release.Append(ReleaseDecider.Drop(release.State, body.Reason, now)) is { } refusal
                ? Problems.Of(refusal)
                : await new ReleaseView(unit.Documents, now, cancel).Show(release.State);
        }, cancel);
}

/// <param name="Reason">Why; one line.</param>
internal sealed record DropReleaseRequest(string? Reason = null);
