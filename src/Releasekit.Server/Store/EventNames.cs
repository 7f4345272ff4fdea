using Marten.Events;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Store;

/// <summary>The stored name of every event: a contract with the database, never derived from a C# name.</summary>
internal static class EventNames
{
    public static void Map(IEventStoreOptions events)
    {
        MapReleases(events);
        MapSeries(events);
        MapProjects(events);
        events.MapEventType<ReminderRaised>("reminder.raised");
    }

    private static void MapReleases(IEventStoreOptions events)
    {
        events.MapEventType<ReleasePlanned>("release.planned");
        events.MapEventType<ReleaseRetitled>("release.retitled");
        events.MapEventType<SlotAssigned>("release.slot_assigned");
        events.MapEventType<SlotUnassigned>("release.slot_unassigned");
        events.MapEventType<StageStarted>("release.stage_started");
        events.MapEventType<StageCompleted>("release.stage_completed");
        events.MapEventType<StageSkipped>("release.stage_skipped");
        events.MapEventType<StageReopened>("release.stage_reopened");
        events.MapEventType<StageBlocked>("release.stage_blocked");
        events.MapEventType<StageUnblocked>("release.stage_unblocked");
        events.MapEventType<ChecklistItemTicked>("release.checklist_item_ticked");
        events.MapEventType<ChecklistItemUnticked>("release.checklist_item_unticked");
        events.MapEventType<TransitionAmended>("release.transition_amended");
        events.MapEventType<StagePlanAdopted>("release.stage_plan_adopted");
        events.MapEventType<ReleaseDropped>("release.dropped");
        events.MapEventType<ReleaseRestored>("release.restored");
    }

    private static void MapSeries(IEventStoreOptions events)
    {
        events.MapEventType<SeriesOpened>("series.opened");
        events.MapEventType<SeriesAmended>("series.amended");
        events.MapEventType<CadenceSet>("series.cadence_set");
        events.MapEventType<BreakPlanned>("series.break_planned");
        events.MapEventType<BreakCancelled>("series.break_cancelled");
        events.MapEventType<SlotMoved>("series.slot_moved");
        events.MapEventType<SlotGivenUp>("series.slot_given_up");
        events.MapEventType<SlotTakenUp>("series.slot_taken_up");
        events.MapEventType<SeriesClosed>("series.closed");
    }

    private static void MapProjects(IEventStoreOptions events)
    {
        events.MapEventType<ProjectProposed>("project.proposed");
        events.MapEventType<ProjectRetitled>("project.retitled");
        events.MapEventType<ProjectRanked>("project.ranked");
        events.MapEventType<ProjectNoteChanged>("project.note_changed");
        events.MapEventType<ProjectStarted>("project.started");
        events.MapEventType<ProjectGoalChanged>("project.goal_changed");
        events.MapEventType<StepPlanned>("project.step_planned");
        events.MapEventType<StepChanged>("project.step_changed");
        events.MapEventType<StepFinished>("project.step_finished");
        events.MapEventType<StepReopened>("project.step_reopened");
        events.MapEventType<StepRemoved>("project.step_removed");
        events.MapEventType<FinishByMoved>("project.finish_by_moved");
        events.MapEventType<ProjectFinished>("project.finished");
        events.MapEventType<ProjectReopened>("project.reopened");
        events.MapEventType<ProjectDropped>("project.dropped");
        events.MapEventType<ProjectRestored>("project.restored");
    }
}
