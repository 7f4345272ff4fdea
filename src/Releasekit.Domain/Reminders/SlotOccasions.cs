using System.Globalization;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Reminders;

/// <summary>Slots at risk and slots missed.</summary>
internal static class SlotOccasions
{
    public static IEnumerable<Occasion> Of(SheetFacts facts, IReadOnlyDictionary<string, PlannedWork> plans) =>
        from series in facts.Series
        from slot in series.Slots
        let occasion = slot.Outcome.Status switch
        {
            SlotStatus.Missed => Missed(facts, series, slot),
            SlotStatus.Held => HeldAtRisk(facts, series, slot),
            SlotStatus.Open => OpenAtRisk(facts, series, slot, plans.GetValueOrDefault(series.Series.Slug)),
            _ => null,
        }
        where occasion is not null
        select occasion;

    /// <summary>When its late window ended, or now, when a later slot was met before that.</summary>
    private static Occasion? Missed(SheetFacts facts, SeriesFacts series, JudgedSlot slot)
    {
        var at = Instant.Min(facts.Now, slot.Slot.PromisedAt + slot.Slot.LateWindow);
        return at >= slot.Slot.ChangedAt ? Occasion(facts, ReminderType.SlotMissed, series, slot, at) : null;
    }

    private static Occasion? HeldAtRisk(SheetFacts facts, SeriesFacts series, JudgedSlot slot)
    {
        if (facts.Find(slot.Outcome.Release) is not { PublishedAt: null } release)
        {
            return null;
        }

        var schedule = BackSchedule.Of(release, slot.Slot.OwedAt, facts.Calendar, facts.Now);
        var unlikely = facts.Chances.GetValueOrDefault(release.Id) is { } told
            && told.SlotAt == slot.Slot.At && told.Chance < series.Series.Settings.RiskThreshold ? told : null;
        var since = schedule.Stages
            .Where(stage => stage.IsAtRisk)
            .Select(stage => stage.LatestStart ?? release.SlotKnownAt)
            .Append(unlikely?.IssuedAt ?? facts.Now)
            .Min();

        return schedule.IsAtRisk || unlikely is not null
            ? Occasion(facts, ReminderType.SlotAtRisk, series, slot, Instant.Max(since, release.SlotKnownAt))
            : null;
    }

    private static Occasion? OpenAtRisk(SheetFacts facts, SeriesFacts series, JudgedSlot slot, PlannedWork? plan)
    {
        var isInBank = facts.Releases.Any(release => release.Series == series.Series.Slug
            && release is { State: ReleaseState.Finished, HeldSlot: null });

        if (plan is null || isInBank || slot.Slot.OwedAt is not { } owedAt)
        {
            return null;
        }

        return plan.LatestStart(owedAt, facts.Calendar, facts.Now) is { } start && start < facts.Now
            ? Occasion(facts, ReminderType.SlotAtRisk, series, slot, Instant.Max(start, slot.Slot.ChangedAt))
            : null;
    }

    private static Occasion Occasion(
        SheetFacts facts, ReminderType type, SeriesFacts series, JudgedSlot slot, Instant at)
    {
        var release = facts.Find(slot.Outcome.Release);
        var date = NodaTime.Text.LocalDatePattern.Iso.Format(slot.Slot.Date);

        return new(
            type,
            $"/v1/series/{series.Series.Slug}/slots/{date}",
            string.Create(CultureInfo.InvariantCulture, $"{slot.Slot.At}"),
            at,
            release?.Title ?? series.Series.Title,
            new(
                Release: release?.Id,
                Series: series.Series.Slug,
                Slot: slot.Slot.Date,
                SlotAt: slot.Slot.At,
                Chance: type is ReminderType.SlotAtRisk && release is not null
                    ? facts.Chances.GetValueOrDefault(release.Id)?.Chance
                    : null));
    }
}

/// <summary>The stages that a release of a series would have if it were planned now.</summary>
/// <param name="plan">The latest version of the series' stage plan.</param>
public sealed class PlannedWork(StagePlan plan)
{
    private readonly Release _release = Release.Evolve(null, 1, new ReleasePlanned(
        Guid.Empty, "", "", plan.Id, plan.Version, plan.Stages, null, Instant.MinValue, Instant.MinValue));

    /// <summary>
    /// When the first stage must begin for a slot, UTC: the last instant at which everything can still be met. Null
    /// when no working time before the slot suffices, or nobody guessed how long anything takes.
    /// </summary>
    internal Instant? LatestStart(Instant slotAt, WorkingCalendar calendar, Instant now) =>
        plan.Stages.All(stage => stage.Effort is null)
            ? null
            : BackSchedule.Of(_release, slotAt, calendar, now).Stages
                .Where(stage => !stage.EffortUnknown)
                .Select(stage => stage.LatestStart)
                .Min();
}
