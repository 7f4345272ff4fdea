using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>The stages of a release as to-dos: those that are open, and those done of late.</summary>
internal static class StageEntries
{
    /// <summary>The uid of a stage; it names it for ever.</summary>
    public static string UidOf(Guid release, string stage) => $"{stage}.{release}@stage.releasekit";

    /// <summary>The release and stage of a uid; null when it names none.</summary>
    public static (Guid Release, string Stage)? Read(string uid)
    {
        var parts = uid.Split('@');

        return parts is [var left, "stage.releasekit"] && left.LastIndexOf('.') is var dot and > 0
            && Guid.TryParse(left[(dot + 1)..], out var release)
                ? (release, left[..dot])
                : null;
    }

    /// <param name="from">From then on the calendar knows what is busy; UTC.</param>
    /// <param name="doneSince">What was done before is not shown any more; UTC.</param>
    public static IEnumerable<CalendarEntry> Of(
        Release release, Series series, WorkingCalendar calendar, Instant from, Instant doneSince)
    {
        var slot = release.HeldSlot is { } date ? SlotCalendar.Find(series, date) : null;
        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);
        var due = DueDates.Of(release, slot?.OwedAt);
        // Latest finishes are counted back from the slot: whenever it is asked, they are the same.
        var schedule = BackSchedule.Of(release, slot?.OwedAt, calendar, from);

        return release.Stages
            .Where(stage => stage.IsDone
                ? stage.Latest!.At >= doneSince
                : release.PublishedAt is null || followUps.Contains(stage.Plan.Key))
            .Select(stage => Of(
                release, stage, slot, schedule.Find(stage.Plan.Key)?.LatestFinish ?? due[stage.Plan.Key], series));
    }

    /// <summary>Of this stage alone: a tick of one must not send all others over the line again.</summary>
    private static Instant ChangedAt(Release release, Stage stage, Slot? slot) => new[]
    {
        stage.Latest?.RecordedAt ?? release.PlannedAt, release.SlotKnownAt, slot?.ChangedAt ?? release.PlannedAt,
    }.Max();

    private static TodoEntry Of(Release release, Stage stage, Slot? slot, Instant? due, Series series)
    {
        var zone = LocalTimes.FindZone(slot?.Zone ?? series.Cadence.Zone);
        var state = release.StateOf(stage);

        return new(
            UidOf(release.Id, stage.Plan.Key),
            ChangedAt(release, stage, slot),
            $"{stage.Plan.Name}: {release.Title}")
        {
            Due = due is { } at ? new CalendarMoment(at, zone) : null,
            Status = state switch
            {
                StageState.Completed => TodoStatus.Completed,
                StageState.Skipped => TodoStatus.Cancelled,
                StageState.Started or StageState.Blocked => TodoStatus.InProcess,
                _ => TodoStatus.NeedsAction,
            },
            CompletedAt = stage.CompletedAt,
            Sequence = stage.Transitions.Count,
            CreatedAt = release.PlannedAt,
            RelatedTo = $"{release.Id}@release.releasekit",
            Categories = [series.Title],
        };
    }
}
