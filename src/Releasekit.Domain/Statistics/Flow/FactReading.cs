using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Statistics.Flow;

/// <summary>Reads what the figures need off a release.</summary>
public static class FactReading
{
    /// <summary>
    /// The facts of a release as of an instant, as we know now that it was; null when it did not exist then.
    /// </summary>
    /// <param name="events">All events of the release, in the order they were recorded.</param>
    /// <param name="asOf">UTC.</param>
    public static ReleaseFacts? Of(IReadOnlyList<Recorded> events, Instant asOf) =>
        ReleaseHistory.AsKnownNow(events, asOf) is { } release ? Of(release, asOf) : null;

    /// <summary>The facts of a release in its present state.</summary>
    /// <param name="asOf">Now, UTC; not before the last transition.</param>
    public static ReleaseFacts Of(Release release, Instant asOf)
    {
        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);
        return new ReleaseFacts(
            release.Id,
            release.PlannedAt,
            asOf,
            [.. release.Stages.Select(stage => FactsOf(stage, RoleOf(stage, followUps)))],
            release.PublishedAt,
            release.DroppedAt,
            release.Slot)
        {
            PlanVersion = release.PlanVersion,
            Series = release.Series,
        };
    }

    private static StageRole RoleOf(Stage stage, IReadOnlySet<string> followUps) => stage.Plan.Publication
        ? StageRole.Publication
        : followUps.Contains(stage.Plan.Key) ? StageRole.FollowUp : StageRole.Making;

    private static StageFacts FactsOf(Stage stage, StageRole role) => new(
        stage.Plan.Key,
        role,
        stage.Plan.Effort,
        stage.Mark is StageMark.Skipped,
        stage.CompletedAt,
        VisitReading.Of(stage.Transitions, isPublication: role is StageRole.Publication));
}
