using Releasekit.Domain.Ideas;
using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Releases;
using Releasekit.Server.Store;

namespace Releasekit.Server.Ideas;

/// <summary>POST /v1/ideas/{id}/promote: the idea becomes a release.</summary>
internal static class PromoteIdea
{
    public static void Map(IEndpointRouteBuilder ideas, IdeaKind kind) => ideas
        .MapPost("/{id:guid}/promote", (
            Guid id, PromoteIdeaRequest? body, Caller caller, Ledger ledger, ServiceClock clock,
            CancellationToken cancel) =>
            Handle(kind, id, body ?? new PromoteIdeaRequest(), caller, ledger, clock, cancel))
        .WithName("promoteIdea")
        .WithSummary("Make an idea a release")
        .WithDescription("""
            The release begins when the idea was noted: its lead time counts from there. The idea stays and names its
            release; it can be promoted again only when that release was dropped.
            """)
        .Answers(201, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ReleaseBody>> Handle(
        IdeaKind kind, Guid id, PromoteIdeaRequest body, Caller caller, Ledger ledger, ServiceClock clock,
        CancellationToken cancel)
    {
        var releaseId = NewIds.Next();
        return ledger.Write<ReleaseBody>(caller.Publisher, async unit =>
        {
            if (await unit.Documents.LoadAsync<Idea>(id, cancel) is not { RemovedAt: null } idea)
            {
                return Problems.NotFound("idea of that id");
            }

            if (await RefuseSecondTime(unit, idea) is { } problem)
            {
                return problem;
            }

            var now = clock.Now;
            var series = body.Series ?? idea.Series;
            var planned = series is null
                ? Problems.Of(
                    "series.unknown", "Say in 'series' which series it becomes a release of; the idea names none.",
                    new ProblemError("/series", "Needed."))
                : await PlanRelease.Begin(
                    unit, releaseId, new(series, body.Title ?? idea.Title, body.Slot, idea.NotedAt, body.StagePlan),
                    now, cancel);

            if (!planned.IsProblem)
            {
                var promoted = idea with { Release = releaseId, PromotedAt = now, ChangedAt = now, Series = series };
                EntryWriting.Store(kind, unit.Documents, promoted);
            }

            return planned;
        }, cancel);
    }

    private static async Task<Problem?> RefuseSecondTime(UnitOfWork unit, Idea idea) =>
        idea.Release is { } known && await unit.Release(known) is { State.State: not ReleaseState.Dropped } release
            ? Problems.Of(
                "idea.promoted", $"The idea is the release '{release.State.Title}' already (/v1/releases/{known}).")
            : null;
}

/// <param name="Series">The id of the series; the idea's own when left out.</param>
/// <param name="Title">One line; the first line of the idea when left out.</param>
/// <param name="Slot">The original local date of the slot it is for; left out for an extra.</param>
/// <param name="StagePlan">The series' plan when left out.</param>
internal sealed record PromoteIdeaRequest(
    string? Series = null, string? Title = null, LocalDate? Slot = null, string? StagePlan = null);
