namespace Releasekit.Domain.Releases;

/// <summary>When the stages of a release are due.</summary>
public static class DueDates
{
    /// <summary>
    /// What makes the release and the publication itself are due at the slot; a
    /// follow-up at publication plus its "within", the publication taken to be at the slot while it has not happened.
    /// UTC; null where there is no slot to count from.
    /// </summary>
    /// <param name="slotAt">Where its slot stands, UTC; null without one.</param>
    public static IReadOnlyDictionary<string, Instant?> Of(Release release, Instant? slotAt)
    {
        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);
        var publication = release.PublishedAt ?? slotAt;

        return release.Stages.ToDictionary(
            stage => stage.Plan.Key,
            stage => followUps.Contains(stage.Plan.Key) ? publication + (stage.Plan.Within ?? Duration.Zero) : slotAt);
    }
}
