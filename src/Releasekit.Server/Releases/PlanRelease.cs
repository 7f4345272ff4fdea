using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Plans;
using Releasekit.Server.Schedule;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>POST /v1/releases: plans a release, for a slot or as an extra.</summary>
internal static class PlanRelease
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapPost("/", Handle)
        .WithName("planRelease")
        .WithSummary("Plan a release")
        .WithDescription(
            "It keeps the version its stage plan has now. Past slots may be assigned, and plannedAt may be back-dated, "
                + "so that a history can be told.")
        .Answers(201, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        PlanReleaseRequest body, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel)
    {
        var id = NewIds.Next();
        return ledger.Write(caller.Publisher, unit => Begin(unit, id, body, clock.Now, cancel), cancel);
    }

    /// <summary>Begins a release in <paramref name="unit"/>, and shows it as made.</summary>
    public static async Task<Answer<ReleaseBody>> Begin(
        UnitOfWork unit, Guid id, PlanReleaseRequest body, Instant now, CancellationToken cancel)
    {
        var series = body.Slot is null ? await unit.Series(body.Series) : await unit.SeriesExclusively(body.Series);

        if (series is null)
        {
            return UnknownSeries(body.Series);
        }

        var followed = body.StagePlan ?? series.State.StagePlan;

        if (await unit.Documents.LoadAsync<StagePlanVersions>(followed, cancel) is not { } plan)
        {
            return KnownPlans.Unknown(followed);
        }

        var decision = ReleaseDecider.Plan(
            id, body.Series, body.Title, plan.Latest, body.Slot, body.ExternalId, body.PlannedAt ?? now, now);

        if (decision.Refusal is { } refusal)
        {
            return Problems.Of(refusal);
        }

        if (body.Slot is { } slot
            && await SlotClaims.Check(unit, series.State, slot, id, "/slot", cancel) is { } problem)
        {
            return problem;
        }

        var view = new ReleaseView(unit.Documents, now, cancel).With(series.State);

        return Http.Answers.Created($"/v1/releases/{id}", await view.Show(unit.Begin(id, [.. decision])));
    }

    private static Problem UnknownSeries(string slug) => Problems.Of(
        "series.unknown", $"There is no series '{slug}'; open it with POST /v1/series.",
        new ProblemError("/series", "Unknown."));
}

/// <param name="Series">The series' id.</param>
/// <param name="Title">One line, 1 to 200 characters.</param>
/// <param name="Slot">The original local date of the slot it is for; left out for an extra.</param>
/// <param name="PlannedAt">When it began to exist; now when left out.</param>
/// <param name="StagePlan">The series' plan when left out.</param>
/// <param name="ExternalId">What a file or another tool calls it.</param>
internal sealed record PlanReleaseRequest(
    string Series,
    string Title,
    LocalDate? Slot = null,
    Instant? PlannedAt = null,
    string? StagePlan = null,
    string? ExternalId = null);
