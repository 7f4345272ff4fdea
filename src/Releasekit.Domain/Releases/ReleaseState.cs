namespace Releasekit.Domain.Releases;

/// <summary>Where a release stands.</summary>
public enum ReleaseState
{
    /// <summary>Nothing was done yet.</summary>
    Planned,

    /// <summary>Some stage left waiting or ready.</summary>
    InProgress,

    /// <summary>All that makes it is done, the publication is not: it is in the bank.</summary>
    Finished,

    /// <summary>Published; a follow-up is open.</summary>
    Published,

    /// <summary>Published, and every follow-up done.</summary>
    Closed,

    /// <summary>Will not be published.</summary>
    Dropped,
}

/// <summary>Reads a release's state off its stages.</summary>
/// <remarks>Making stages left open after publication do not hold it open: what they were for has happened.</remarks>
internal static class ReleaseStates
{
    public static ReleaseState Of(Release release)
    {
        if (release.IsDropped)
        {
            return ReleaseState.Dropped;
        }

        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);

        if (release.Publication.IsDone)
        {
            return release.Stages.All(stage => stage.IsDone || !followUps.Contains(stage.Plan.Key))
                ? ReleaseState.Closed
                : ReleaseState.Published;
        }

        var making = release.Stages.Where(stage => !stage.Plan.Publication && !followUps.Contains(stage.Plan.Key));
        var isFinished = making.Any() && making.All(stage => stage.IsDone);

        if (isFinished)
        {
            return ReleaseState.Finished;
        }

        return release.Stages.Any(stage => stage.Mark is not StageMark.None)
            ? ReleaseState.InProgress
            : ReleaseState.Planned;
    }
}
