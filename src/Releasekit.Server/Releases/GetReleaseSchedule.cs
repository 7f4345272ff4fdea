using Marten;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Releases;

/// <summary>GET /v1/releases/{id}/schedule: what has to start when, counted back from the slot.</summary>
internal static class GetReleaseSchedule
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapGet("/{id:guid}/schedule", Handle)
        .WithName("getReleaseSchedule")
        .WithSummary("Read the schedule of a release")
        .WithDescription("""
            The open stages, forward from now and back from the slot, in the publisher's working hours without days off:
            when each can start and finish, when it must, how much float it has, and which are critical. Stages that do
            not follow each other may go on side by side here, so for one person these are the most hopeful times.
            A stage without effort counts as taking no time ("effortUnknown").
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<ReleaseScheduleBody>> Handle(
        Guid id, Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);

        if (await session.LoadAsync<Release>(id, cancel) is not { } release)
        {
            return Problems.NotFound("release of that id");
        }

        var scene = await EntryScene.Load(session, clock.Now, cancel);
        var slotAt = await SlotOf(session, release, cancel);
        var now = scene.Now;
        var calendar = WorkingCalendar.Of(scene.Publisher, await BusyTimes.Load(session, now, cancel));
        var schedule = BackSchedule.Of(release, slotAt, calendar, now);

        return new ReleaseScheduleBody(
            id, slotAt, schedule.PublicationAt, schedule.IsAtRisk, now, [.. schedule.Stages.Select(Show)]);
    }

    private static async Task<Instant?> SlotOf(IQuerySession session, Release release, CancellationToken cancel) =>
        release.HeldSlot is { } date
        && await session.LoadAsync<Series>(StreamIds.OfSeries(release.Series), cancel) is { } series
            ? SlotCalendar.Find(series, date)?.OwedAt
            : null;

    private static ScheduledStageBody Show(StageSchedule stage) => new(
        stage.Key, stage.Effort, stage.EffortUnknown, stage.EarliestStart, stage.EarliestFinish, stage.LatestStart,
        stage.LatestFinish, stage.TotalFloat, stage.FreeFloat, stage.IsCritical, stage.IsAtRisk);
}

/// <param name="Release">The id of the release.</param>
/// <param name="SlotAt">Where its slot stands, UTC; null without one, and when it is excused.</param>
/// <param name="PublicationAt">
/// When it was published, or will be if work begins now and never waits, UTC; null when there is no working time for
/// it.
/// </param>
/// <param name="AtRisk">Whether a stage up to the publication should have started by now and has not.</param>
/// <param name="CountedAt">The instant it was counted from, UTC.</param>
/// <param name="Stages">The open ones, in working order.</param>
internal sealed record ReleaseScheduleBody(
    Guid Release,
    Instant? SlotAt,
    Instant? PublicationAt,
    bool AtRisk,
    Instant CountedAt,
    IReadOnlyList<ScheduledStageBody> Stages);

/// <param name="Key">The key of the stage.</param>
/// <param name="Effort">Working time it is counted with, ISO 8601; zero when nobody guessed.</param>
/// <param name="EffortUnknown">Whether nobody guessed: then the latest times of all before it are too hopeful.</param>
/// <param name="EarliestStart">
/// The next working instant at which it can begin, UTC; null when there is no working time for it.
/// </param>
/// <param name="EarliestFinish">When it is done then, UTC; null when there is no working time for it.</param>
/// <param name="LatestStart">When it must begin, UTC; null without a promise to count from.</param>
/// <param name="LatestFinish">When it must be done, UTC; null without a promise to count from.</param>
/// <param name="TotalFloat">Working time to spare before the promise breaks; negative: so much is missing.</param>
/// <param name="FreeFloat">Working time it can finish later without moving any other stage.</param>
/// <param name="Critical">Whether no other stage has less float: a delay here delays the whole.</param>
/// <param name="AtRisk">Whether it should have started by now and has not.</param>
internal sealed record ScheduledStageBody(
    string Key,
    Duration Effort,
    bool EffortUnknown,
    Instant? EarliestStart,
    Instant? EarliestFinish,
    Instant? LatestStart,
    Instant? LatestFinish,
    Duration? TotalFloat,
    Duration? FreeFloat,
    bool Critical,
    bool AtRisk);
