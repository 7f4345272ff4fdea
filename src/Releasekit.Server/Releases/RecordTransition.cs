using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>
/// POST /v1/releases/{id}/transitions: records that a stage was started, completed, skipped, blocked or is ready again.
/// </summary>
internal static class RecordTransition
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPost("/{id:guid}/transitions", Handle)
        .WithName("recordTransition")
        .WithSummary("Record a transition of a stage")
        .WithDescription("""
            Asking for the state a stage already has changes nothing and answers 200. "ready" reopens a completed or
            skipped stage, or ends a block. Completing the publication stage publishes the release. If-Match is
            honoured, not needed.
            """)
        .Answers(200, 404, 409, 412, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        Guid id, TransitionRequest body, Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock,
        CancellationToken cancel) =>
        ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            if (await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            var now = clock.Now;
            var view = new ReleaseView(unit.Documents, now, cancel);

            if (request.Headers.IfMatch.Count > 0
                && ETags.CheckIfMatch(request, await view.Show(release.State), isNeeded: false) is { } stale)
            {
                return stale;
            }

            return release.Append(StageDecider.Record(
                release.State, body.Stage, body.To, body.Note, body.Url, body.At, now)) is { } refusal
                    ? Problems.Of(refusal)
                    : await view.Show(release.State);
        }, cancel);
}

/// <param name="Stage">The stage's key.</param>
/// <param name="To">started, completed, skipped, blocked or ready.</param>
/// <param name="At">When it happened; now when left out. Two minutes ahead of our clock are allowed.</param>
/// <param name="Note">The reason: needed for skipped, blocked and reopening, optional otherwise.</param>
/// <param name="Url">Where the publication can be seen; with the completion of the publication stage only.</param>
internal sealed record TransitionRequest(
    string Stage, StageState To, Instant? At = null, string? Note = null, string? Url = null);
