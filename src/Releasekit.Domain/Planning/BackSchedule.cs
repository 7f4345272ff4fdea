using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Planning;

/// <summary>
/// The open stages of one release, counted back from its slot and forward from now (critical path method on the working
/// calendar).
/// <list type="bullet">
/// <item>Publication happens at the slot, as soon as all before it is done if that is later; a release without a slot
/// is published as soon as it can be, and has no latest times.</item>
/// <item>What makes the release is due at the slot, or earlier for what follows it; once it is published, what was left
/// open of the making is no longer asked for.</item>
/// <item>A follow-up begins after publication and is due "within" after it, elapsed time; where none was said, no
/// latest times are told for it, as nothing was promised.</item>
/// <item>Done stages are left out; a started one counts with its whole effort; one without effort counts zero, and a
/// blocked one as if it could go on at once.</item>
/// <item>Stages that do not follow each other may go on side by side, so for one person the times are the most hopeful
/// ones: <see cref="CapacityPlan"/> says what fits.</item>
/// </list>
/// </summary>
/// <param name="Stages">The open ones, in working order; empty when all is done or the release is dropped.</param>
/// <param name="PublicationAt">When it is published by these assumptions, or was; null when never within reach.</param>
/// <param name="IsAtRisk">
/// Whether a stage up to and with the publication is at risk; a late follow-up does not endanger the slot.
/// </param>
public sealed record BackSchedule(IReadOnlyList<StageSchedule> Stages, Instant? PublicationAt, bool IsAtRisk)
{
    /// <summary>The open stage of that key; null when it is done or the release has none.</summary>
    public StageSchedule? Find(string key) => Stages.FirstOrDefault(stage => stage.Key == key);

    /// <summary>
    /// The schedule of <paramref name="release"/>, whose stages must be a sound plan (its rules see to that).
    /// </summary>
    /// <param name="slotAt">Where its slot stands, UTC; null without one.</param>
    /// <param name="now">UTC.</param>
    public static BackSchedule Of(Release release, Instant? slotAt, WorkingCalendar calendar, Instant now)
    {
        if (release.State is ReleaseState.Dropped)
        {
            return new BackSchedule([], null, false);
        }

        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);
        var making = release.Publication.IsDone
            ? []
            : Open(release, stage => !followUps.Contains(stage.Plan.Key));

        var first = new StageNetwork(making, calendar, now, _ => slotAt, _ => now);
        var publicationAt = release.PublishedAt ?? Latest([first.FinishOf(release.Publication), slotAt ?? now]);

        var second = new StageNetwork(
            Open(release, stage => followUps.Contains(stage.Plan.Key)),
            calendar,
            now,
            stage => (release.PublishedAt ?? slotAt) + stage.Plan.Within,
            stage => Latest(
                [
                    publicationAt,
                    .. making.Where(before => stage.Plan.After.Contains(before.Plan.Key)).Select(first.FinishOf),
                ]));

        var schedules = first.Schedules().Concat(second.Schedules()).ToDictionary(schedule => schedule.Key);

        return new BackSchedule(
            [.. release.Stages.Where(s => schedules.ContainsKey(s.Plan.Key)).Select(s => schedules[s.Plan.Key])],
            publicationAt,
            making.Any(stage => schedules[stage.Plan.Key].IsAtRisk));
    }

    private static List<Stage> Open(Release release, Func<Stage, bool> isMeant) =>
        [.. release.Stages.Where(stage => !stage.IsDone && isMeant(stage))];

    /// <summary>The latest of them; null when one of them never comes.</summary>
    private static Instant? Latest(IEnumerable<Instant?> instants) =>
        instants.Aggregate((one, other) => one is null || other is null ? null : Instant.Max(one.Value, other.Value));
}
