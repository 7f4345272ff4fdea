using System.Globalization;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Sheets;

namespace Releasekit.Domain.Reminders;

/// <summary>Stages that are due soon or overdue.</summary>
internal static class StageOccasions
{
    public static IEnumerable<Occasion> Of(SheetFacts facts) =>
        from release in facts.Releases
        from schedule in BackSchedule.Of(release, facts.OwedAt(release), facts.Calendar, facts.Now).Stages
        where schedule.LatestFinish is not null
        let stage = release.FindStage(schedule.Key)!
        let occasion = Of(facts, release, stage, schedule.LatestFinish!.Value)
        where occasion is not null
        select occasion;

    private static Occasion? Of(SheetFacts facts, Release release, Stage stage, Instant due)
    {
        if (facts.Now < due)
        {
            var soon = due - facts.Publisher.Reminders.DueSoon;
            return Occasion(ReminderType.StageDueSoon, Instant.Max(soon, KnownAt(release, stage)));
        }

        // Opened again after it was due, it is due again; what was past when it came to be known is no news.
        return due >= release.SlotKnownAt || IsOpenedAgain(stage)
            ? Occasion(ReminderType.StageOverdue, Instant.Max(due, OpenedAgainAt(stage) ?? due))
            : null;

        Occasion Occasion(ReminderType type, Instant at) => new(
            type,
            $"/v1/releases/{release.Id}/stages/{stage.Plan.Key}",
            KeyOf(facts, release, stage),
            at,
            release.Title,
            new(
                Release: release.Id,
                Series: release.Series,
                Stage: stage.Plan.Key,
                StageName: stage.Plan.Name,
                Slot: release.HeldSlot,
                SlotAt: facts.OwedAt(release),
                DueAt: due));
    }

    private static Instant KnownAt(Release release, Stage stage) =>
        Instant.Max(release.SlotKnownAt, OpenedAgainAt(stage) ?? Instant.MinValue);

    private static bool IsOpenedAgain(Stage stage) => stage.Latest is { Kind: TransitionKind.Reopened };

    private static Instant? OpenedAgainAt(Stage stage) => IsOpenedAgain(stage) ? stage.Latest!.RecordedAt : null;

    /// <summary>
    /// By what the due is counted from, not by the due itself: an appointment that shifts it by an hour is no new
    /// occasion.
    /// </summary>
    private static string KeyOf(SheetFacts facts, Release release, Stage stage)
    {
        var from = release.PublishedAt ?? facts.OwedAt(release);
        var opened = stage.Transitions.Count(transition => transition.Kind is TransitionKind.Reopened);

        return string.Create(CultureInfo.InvariantCulture, $"{from}#{opened}");
    }
}
