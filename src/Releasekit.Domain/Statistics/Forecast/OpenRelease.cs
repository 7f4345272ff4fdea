using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>A stage that lies ahead.</summary>
/// <param name="Key">The stage's key.</param>
/// <param name="DoneHours">Working hours already spent on it: its work is longer than that. 0: not begun.</param>
/// <param name="After">Keys of the stages it follows; those that do not lie ahead are done.</param>
public sealed record StageAhead(string Key, double DoneHours, IReadOnlyList<string> After);

/// <summary>A release that is still to be made.</summary>
/// <param name="Release">Its id.</param>
/// <param name="SlotAt">When it is promised, UTC; null without a slot: it comes after all that have one.</param>
/// <param name="Stages">
/// Up to the publication, in working order; empty when it is in the bank, ready at once.
/// </param>
public sealed record OpenRelease(Guid Release, Instant? SlotAt, IReadOnlyList<StageAhead> Stages)
{
    /// <summary>How long after its slot it still meets it: the tolerance of its series.</summary>
    public Duration Grace { get; init; }

    /// <summary>What lies ahead of a release; null when it is published or dropped.</summary>
    /// <param name="now">UTC.</param>
    /// <param name="slotAt">Where its slot stands, UTC; null without one.</param>
    /// <param name="worked">What went into it by now.</param>
    public static OpenRelease? Of(Release release, Instant now, Instant? slotAt, WorkedHours worked)
    {
        var facts = FactReading.Of(release, now);
        return facts.LeftAt is not null ? null : new(
            release.Id,
            slotAt,
            [
                .. facts.Stages
                    .Where(stage => stage is { Role: not StageRole.FollowUp, CompletedAt: null, IsSkipped: false })
                    .Select(stage => new StageAhead(
                        stage.Key,
                        worked.On(release.Id, stage.Key),
                        release.FindStage(stage.Key)!.Plan.After)),
            ]);
    }
}
