using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics.Flow;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Statistics.Flow;

public sealed class FactReadingTests
{
    [Fact]
    public void Visits_begin_with_a_start_and_end_with_a_completion_and_keep_their_blocks()
    {
        var facts = Facts(
            Planned, Started("outline", 1), Blocked("outline", 2), Unblocked("outline", 5), Completed("outline", 7),
            Reopened("outline", 8), Started("outline", 9), Blocked("outline", 11));

        var outline = facts.Stages[0];
        Assert.Equal((StageRole.Making, false, null), (outline.Role, outline.IsSkipped, outline.CompletedAt));
        Assert.Equal([(At(1), At(7)), (At(9), (Instant?)null)], outline.Visits.Select(v => (v.From!.Value, v.To)));
        Assert.Equal([new Interval(At(2), At(5))], outline.Visits[0].Blocked);
        Assert.Equal([new Interval(At(11), null)], outline.Visits[1].Blocked);
        Assert.Equal((At(1), At(1)), (facts.StartedAt, facts.BegunBy));
    }

    [Fact]
    public void A_completion_without_a_start_has_an_unknown_one()
    {
        var facts = Facts([.. Published, Completed("announce", 6)]);

        Assert.Equal((null, At(1), true), (facts.StartedAt, facts.BegunBy, facts.IsStartUnknown));
        Assert.Equal((At(5), At(5)), (facts.PublishedAt, facts.LeftAt));
        Assert.Equal(StageRole.FollowUp, facts.Stages[5].Role);
        Assert.Null(StageTimes.TimeOf(facts.Stages[0]));
    }

    [Fact]
    public void A_start_before_the_first_bare_completion_is_the_start_of_the_release() => Assert.Equal(
        At(1), Facts(Planned, Started("outline", 1), Completed("outline", 2), Completed("recording", 3)).StartedAt);

    [Fact]
    public void A_wrong_tick_of_the_publication_never_was()
    {
        var facts = Facts([.. Published, Reopened("publish", 6), Completed("publish", 9)]);

        Assert.Equal(At(9), facts.PublishedAt);
        Assert.Equal([At(9)], facts.Stages[4].Visits.Select(visit => visit.To));
    }

    [Fact]
    public void What_is_reopened_after_the_publication_is_a_revision_and_no_part_of_the_cycle()
    {
        var facts = Facts(
            Planned, Started("outline", 1), Completed("outline", 2), Started("recording", 2),
            Completed("recording", 3), Skipped("final-mix", 3), Skipped("show-notes", 3), Completed("publish", 4),
            Reopened("outline", 8), Started("outline", 9), Completed("outline", 12));

        var split = TimeSplit.TryOf(facts)!;

        Assert.Equal(2, split.TotalWorking * 24, 9);
        Assert.Equal(1, split.TotalWaiting * 24, 9);
        Assert.True(facts.Stages[2].IsSkipped);
    }

    [Fact]
    public void The_facts_of_a_past_instant_know_nothing_of_what_came_later()
    {
        Recorded[] events = [.. Published.Append(new ReleaseDropped("no tide", At(9), At(9)))
            .Select((e, i) => new Recorded(i + 1, e))];

        Assert.Null(FactReading.Of(events, PlannedAt - Duration.Epsilon));
        Assert.Null(FactReading.Of(events, At(4))!.PublishedAt);
        Assert.Equal(At(5), FactReading.Of(events, At(5))!.PublishedAt);
        Assert.Null(FactReading.Of(events, At(8))!.DroppedAt);
        Assert.Equal(At(9), FactReading.Of(events, At(9))!.DroppedAt);
    }

    private static ReleaseFacts Facts(params ReleaseEvent[] events) => FactReading.Of(After(events), At(99));
}
