using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Plans;
using Releasekit.Server.Schedule;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>PATCH /v1/releases/{id}: another title, another slot or none, a newer version of its stage plan.</summary>
internal static class ChangeRelease
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPatch("/{id:guid}", Handle)
        .WithName("changeRelease")
        .WithSummary("Change a release")
        .WithDescription(
            "A JSON Merge Patch. \"slot\": null takes it off its slot; \"planVersion\" adopts another version of its "
                + "plan, keeping what was done.")
        .Answers(200, 404, 409, 412, 422, 428)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        Guid id, MergePatch<ReleaseValues> patch, Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock,
        CancellationToken cancel) =>
        ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            if (await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            var now = clock.Now;
            var view = new ReleaseView(unit.Documents, now, cancel);

            if (ETags.CheckIfMatch(request, await view.Show(release.State)) is { } stale)
            {
                return stale;
            }

            var values = patch.ApplyTo(ReleaseValues.Of(release.State));
            var refusal = release.Append(ReleaseDecider.Retitle(release.State, values.Title, now));
            var problem = (refusal is null ? null : Problems.Of(refusal))
                ?? await GiveSlot(unit, release, values.Slot, now, cancel)
                ?? await AdoptPlan(unit, release, values.PlanVersion, now, cancel);

            return problem is not null ? problem : await view.Show(release.State);
        }, cancel);

    private static async Task<Problem?> GiveSlot(
        UnitOfWork unit, Stream<Release, ReleaseEvent> release, LocalDate? slot, Instant now, CancellationToken cancel)
    {
        if (slot == release.State.Slot)
        {
            return null;
        }

        if (slot is not { } date)
        {
            return ProblemOf(release.Append(ReleaseDecider.UnassignSlot(release.State, "taken off the slot", now)));
        }

        var series = (await unit.SeriesExclusively(release.State.Series))!;

        return await SlotClaims.Check(unit, series.State, date, release.State.Id, "/slot", cancel)
            ?? ProblemOf(release.Append(ReleaseDecider.AssignSlot(release.State, date, now)));
    }

    private static async Task<Problem?> AdoptPlan(
        UnitOfWork unit, Stream<Release, ReleaseEvent> release, int version, Instant now, CancellationToken cancel)
    {
        if (version == release.State.PlanVersion)
        {
            return null;
        }

        var versions = await unit.Documents.LoadAsync<StagePlanVersions>(release.State.StagePlan, cancel);

        return versions?.Find(version) is { } plan
            ? ProblemOf(release.Append(ReleaseDecider.AdoptPlan(release.State, plan, now)))
            : Problems.Of(
                "stage_plan.unknown",
                $"'{release.State.StagePlan}' has no version {version}; the latest is {versions?.Latest.Version}.",
                new ProblemError("/planVersion", "Unknown."));
    }

    private static Problem? ProblemOf(Refusal? refusal) => refusal is null ? null : Problems.Of(refusal);
}

/// <summary>What of a release can be changed.</summary>
/// <param name="Title">One line, 1 to 200 characters.</param>
/// <param name="PlanVersion">The version of its stage plan it follows: the one it has, or a newer one.</param>
/// <param name="Slot">The original local date of its slot; null for none.</param>
internal sealed record ReleaseValues(string Title, int PlanVersion, LocalDate? Slot = null)
{
    public static ReleaseValues Of(Release release) => new(release.Title, release.PlanVersion, release.Slot);
}
