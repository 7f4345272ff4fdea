using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>POST /v1/transitions: many transitions at once, all or nothing.</summary>
internal static class RecordTransitions
{
    private const int Most = 200;

    public static void Map(IEndpointRouteBuilder transitions) => transitions
        .MapPost("/", Handle)
        .WithName("recordTransitions")
        .WithSummary("Record many transitions, all or nothing")
        .WithDescription(
            "In the order given, 200 at most; when one is refused nothing is recorded, and the errors name it. Answers "
                + "every release it touched.")
        .Answers(200, 409, 422)
        .Needs(Scope.Write);

    private static async Task<Answer<TransitionsBody>> Handle(
        TransitionsRequest body, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel)
    {
        if (body.Transitions.Count is 0 or > Most)
        {
            return Problems.Of(
                "invalid", $"1 to {Most} transitions at once; these are {body.Transitions.Count}.",
                new ProblemError("/transitions", "Too few or too many."));
        }

        return await ledger.Write<TransitionsBody>(caller.Publisher, async unit =>
        {
            var now = clock.Now;
            var touched = new Dictionary<Guid, Stream<Release, ReleaseEvent>>();

            foreach (var (transition, i) in body.Transitions.Select((transition, i) => (transition, i)))
            {
                if (await unit.Release(transition.Release) is not { } release)
                {
                    var detail = $"There is no release {transition.Release} here; nothing was recorded.";
                    return Problems.Of("invalid", detail, new ProblemError($"/transitions/{i}/release", detail));
                }

                touched[transition.Release] = release;

                if (release.Append(transition.Decide(release.State, now)) is { } refusal)
                {
                    return Problems.Of(refusal with { Member = $"/transitions/{i}{refusal.Member}" });
                }
            }

            return await Show(new ReleaseView(unit.Documents, now, cancel), touched.Values);
        }, cancel);
    }

    private static async Task<TransitionsBody> Show(
        ReleaseView view, IEnumerable<Stream<Release, ReleaseEvent>> releases)
    {
        var shown = new List<ReleaseBody>();

        foreach (var release in releases)
        {
            shown.Add(await view.Show(release.State));
        }

        return new TransitionsBody(shown);
    }
}

/// <param name="Transitions">1 to 200, in the order they happened.</param>
internal sealed record TransitionsRequest(IReadOnlyList<ReleaseTransitionRequest> Transitions);

/// <param name="Release">The release's id.</param>
/// <param name="Stage">The stage's key.</param>
/// <param name="To">started, completed, skipped, blocked or ready.</param>
/// <param name="At">When it happened; now when left out. Two minutes ahead of our clock are allowed.</param>
/// <param name="Note">The reason: needed for skipped, blocked and reopening, optional otherwise.</param>
/// <param name="Url">Where the publication can be seen; with the completion of the publication stage only.</param>
internal sealed record ReleaseTransitionRequest(
    Guid Release, string Stage, StageState To, Instant? At = null, string? Note = null, string? Url = null)
{
    internal Decision<ReleaseEvent> Decide(Release release, Instant now) =>
        StageDecider.Record(release, Stage, To, Note, Url, At, now);
}

/// <param name="Releases">Every release that was named, as it is now.</param>
internal sealed record TransitionsBody(IReadOnlyList<ReleaseBody> Releases);
