using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>PATCH /v1/releases/{id}/transitions/{sequence}: corrects when a transition happened.</summary>
internal static class AmendTransition
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPatch("/{id:guid}/transitions/{sequence:long}", Handle)
        .WithName("amendTransition")
        .WithSummary("Correct the time of a transition")
        .WithDescription(
            "The history keeps the old time too. If-Match takes the ETag of the release and is not needed: repeating "
                + "the request changes nothing.")
        .Answers(200, 404, 412, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        Guid id, long sequence, MergePatch<TransitionValues> patch,
        Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            var release = await unit.Release(id);
            var transition = release?.State.Stages
                .SelectMany(stage => stage.Transitions)
                .FirstOrDefault(known => known.Sequence == sequence);

            if (release is null || transition is null)
            {
                return Problems.NotFound($"transition {sequence} of that release");
            }

            var now = clock.Now;
            var view = new ReleaseView(unit.Documents, now, cancel);

            if (ETags.CheckIfMatch(request, await view.Show(release.State), isNeeded: false) is { } stale)
            {
                return stale;
            }

            var values = patch.ApplyTo(new TransitionValues(transition.At));

            return release.Append(StageDecider.Amend(release.State, sequence, values.At, now)) is { } refusal
                ? Problems.Of(refusal)
                : await view.Show(release.State);
        }, cancel);
}

/// <summary>What of a transition can be corrected.</summary>
/// <param name="At">When it really happened.</param>
internal sealed record TransitionValues(Instant At);
