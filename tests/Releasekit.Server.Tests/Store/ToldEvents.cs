using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Tests.Store;

/// <summary>
/// One event of every kind with every member told: what the files in <c>Stored/</c> mean. An event that gets a member
/// keeps its line and its file as they are, so that the member's default is read for ever.
/// </summary>
internal static class ToldEvents
{
    private static readonly Guid Release = new("0197a5c0-0000-7000-8000-000000000012");
    private static readonly Guid Series = new("0197a5c0-0000-8000-8000-000000000001");
    private static readonly Guid Project = new("0197a5c0-0000-7000-8000-000000000031");
    private static readonly Guid Pause = new("0197a5c0-0000-7000-8000-000000000002");
    private static readonly Instant Happened = Instant.FromUtc(2026, 3, 10, 18, 30);
    private static readonly Instant Told = Instant.FromUtc(2026, 3, 11, 9, 0, 1) + Duration.FromNanoseconds(
        123_456_700);
    private static readonly LocalDate Slot = new(2026, 3, 12);

    private static readonly PlannedStage[] Stages =
    [
        new("final-mix", "Final mix", false, Duration.FromMinutes(90), ["rough-cut"], ["rough-cut"], null,
            [new("links-checked", "Links checked")]),
        new("announce", "Announce", true, null, [], [], Duration.FromDays(1), []),
    ];

    private static readonly SeriesSettings Settings = new(
        Duration.FromHours(12), Duration.FromDays(2), Duration.FromDays(5), RiskThreshold: 0.75);

    public static readonly IReadOnlyDictionary<string, object> ByName = new Dictionary<string, object>
    {
        ["release.planned"] = new ReleasePlanned(
            Release, "mudflat-weekly", "No. 12: ebb & flow", "audio", 3, Stages, "row-12", Happened, Told),
        ["release.retitled"] = new ReleaseRetitled("No. 12: flow", Happened, Told),
        ["release.slot_assigned"] = new SlotAssigned(Slot, Happened, Told),
        ["release.slot_unassigned"] = new SlotUnassigned(Slot, "taken off", Happened, Told),
        ["release.stage_started"] = new StageStarted("final-mix", "by lamp light", Happened, Told),
        ["release.stage_completed"] = new StageCompleted(
            "publish", true, true, "at last", "https://example.org/12", Happened, Told),
        ["release.stage_skipped"] = new StageSkipped("transcript", "no time", Happened, Told),
        ["release.stage_reopened"] = new StageReopened("publish", true, "wrong tick", Happened, Told),
        ["release.stage_blocked"] = new StageBlocked("field-recording", "rain", Happened, Told),
        ["release.stage_unblocked"] = new StageUnblocked("field-recording", "dry again", Happened, Told),
        ["release.checklist_item_ticked"] = new ChecklistItemTicked("final-mix", "links-checked", Happened, Told),
        ["release.checklist_item_unticked"] = new ChecklistItemUnticked("final-mix", "links-checked", Happened, Told),
        ["release.transition_amended"] = new TransitionAmended(
            7, "final-mix", Happened, Happened - Duration.FromHours(2), Told, Told),
        ["release.stage_plan_adopted"] = new StagePlanAdopted("audio", 4, Stages, Happened, Told),
        ["release.dropped"] = new ReleaseDropped("the guest is ill", Happened, Told),
        ["release.restored"] = new ReleaseRestored(Happened, Told),

        ["series.opened"] = new SeriesOpened(Series, "mudflat-weekly", "Mudflat Weekly", "audio", Settings, Told),
        ["reminder.raised"] = new ReminderRaised(
            ReminderType.StageOverdue, "/v1/releases/1/stages/mix", "2026-03-05T07:00:00Z#0", "Eelgrass",
            new(
                Guid.Parse("01890000-0000-7000-8000-000000000001"), "mudflat", "mix", "Final mix", new(2026, 3, 5),
                Told, Told),
            true, Told, Told),
        ["series.amended"] = new SeriesAmended("Mudflat", "audio", Settings, Told),
        ["series.cadence_set"] = new CadenceSet(
            new("FREQ=WEEKLY;BYDAY=TH", new(2026, 1, 1), new(7, 30), "Europe/Lisbon"), Slot, Told),
        ["series.break_planned"] = new BreakPlanned(Pause, Slot, Slot.PlusDays(6), "low water", Told),
        ["series.break_cancelled"] = new BreakCancelled(Pause, Told),
        ["series.slot_moved"] = new SlotMoved(Slot, Slot.PlusDays(2) + new LocalTime(7, 0), Told),
        ["series.slot_given_up"] = new SlotGivenUp(Slot, "flu", Told),
        ["series.slot_taken_up"] = new SlotTakenUp(Slot, Told),
        ["series.closed"] = new SeriesClosed(Told),

        ["project.proposed"] = new ProjectProposed(
            Project, "Estuary sound atlas", 3, "ask the pilots", Happened, Told),
        ["project.retitled"] = new ProjectRetitled("Sound atlas", Happened, Told),
        ["project.ranked"] = new ProjectRanked(1, Happened, Told),
        ["project.note_changed"] = new ProjectNoteChanged("ask the ferry too", Happened, Told),
        ["project.started"] = new ProjectStarted("Forty places on one map", Slot, Happened, Told),
        ["project.goal_changed"] = new ProjectGoalChanged("Thirty places on one map", Happened, Told),
        ["project.step_planned"] = new StepPlanned("s1", "North shore", Slot, "at low water", Happened, Told),
        ["project.step_changed"] = new StepChanged("s1", "South shore", Slot, "at high water", Happened, Told),
        ["project.step_finished"] = new StepFinished("s1", Happened, Told),
        ["project.step_reopened"] = new StepReopened("s1", Happened, Told),
        ["project.step_removed"] = new StepRemoved("s1", Happened, Told),
        ["project.finish_by_moved"] = new FinishByMoved(Slot, Slot.PlusDays(9), "fog", Happened, Told),
        ["project.finished"] = new ProjectFinished("39 places", Happened, Told),
        ["project.reopened"] = new ProjectReopened(Happened, Told),
        ["project.dropped"] = new ProjectDropped("no boat", Happened, Told),
        ["project.restored"] = new ProjectRestored(Happened, Told),
    };
}
