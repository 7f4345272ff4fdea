using Releasekit.Domain.Planning;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>When a stage of a release was under way.</summary>
/// <param name="Release">Its id.</param>
/// <param name="Stage">Its key.</param>
/// <param name="From">UTC, included.</param>
/// <param name="To">UTC, excluded, after <paramref name="From"/>.</param>
internal readonly record struct StageSpell(Guid Release, string Stage, Instant From, Instant To);

/// <summary>
/// Reads off releases when their stages were under way, blocked time left out. Most people tick what is done and never
/// say that they begin: such a stage is taken to have begun at the tick before it in its release, as one person does
/// one thing after another; the first of all as early as its effort says; the publication took nothing. Where it is
/// wrong it takes waiting for work.
/// </summary>
internal static class StageSpells
{
    /// <summary>
    /// The spells of a release up to an instant. A making stage that was reopened after the publication is another
    /// work: it tells nothing of the release's.
    /// </summary>
    public static IEnumerable<StageSpell> Of(ReleaseFacts release, Instant until, WorkingCalendar calendar) =>
        from stage in release.Stages
        let end = stage.Role is StageRole.FollowUp ? until : Instant.Min(release.LeftAt ?? until, until)
        from visit in stage.Visits
        let start = StartOf(release, stage, visit, calendar)
        where start < end
        from worked in Worked(visit, start.Value, end)
        where worked.Start < worked.End
        select new StageSpell(release.Release, stage.Key, worked.Start, worked.End);

    /// <summary>When a visit began, or is taken to have begun, UTC; null when nothing tells.</summary>
    public static Instant? StartOf(
        ReleaseFacts release, StageFacts stage, StageVisit visit, WorkingCalendar calendar)
    {
        // Before its publication a release may have lain in the bank.
        if (visit.From is not null || visit.To is not { } done || stage.Role is StageRole.Publication)
        {
            return visit.From;
        }

        Instant? before = null;
        foreach (var other in release.Stages)
        {
            if (other != stage && other.CompletedAt <= done && !(other.CompletedAt <= before))
            {
                before = other.CompletedAt;
            }
        }

        return before ?? (stage.Effort is { } effort ? calendar.Subtract(done, effort) : null);
    }

    /// <summary>When a release was begun, or is taken to have been, UTC; null when nothing tells.</summary>
    public static Instant? BeginOf(ReleaseFacts release, WorkingCalendar calendar) => release.StartedAt
        ?? release.Stages
            .Where(stage => stage.Role is StageRole.Making)
            .SelectMany(stage => stage.Visits.Select(visit => StartOf(release, stage, visit, calendar)))
            .Min();

    private static IEnumerable<Interval> Worked(StageVisit visit, Instant from, Instant end)
    {
        var to = Instant.Min(visit.To ?? end, end);

        foreach (var blocked in visit.Blocked.Where(blocked => blocked.Start < to))
        {
            yield return new(from, blocked.Start);
            from = blocked.HasEnd ? Instant.Min(blocked.End, to) : to;
        }

        yield return new(from, to);
    }
}
