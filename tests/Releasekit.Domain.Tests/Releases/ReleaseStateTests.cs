using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class ReleaseStateTests
{
    public static TheoryData<string, ReleaseState> Cases => new()
    {
        { "planned", ReleaseState.Planned },
        { "started", ReleaseState.InProgress },
        { "blocked", ReleaseState.InProgress },
        { "skipped", ReleaseState.InProgress },
        { "reopened", ReleaseState.Planned },
        { "all but one made", ReleaseState.InProgress },
        { "made", ReleaseState.Finished },
        { "made, one skipped", ReleaseState.Finished },
        { "made, publication started", ReleaseState.Finished },
        { "published", ReleaseState.Published },
        { "published out of order", ReleaseState.Published },
        { "published, one followed up", ReleaseState.Published },
        { "published, followed up", ReleaseState.Closed },
        { "unpublished", ReleaseState.Finished },
        { "dropped", ReleaseState.Dropped },
        { "restored", ReleaseState.Finished },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_release_stands_where_its_stages_say(string history, ReleaseState expected) =>
        Assert.Equal(expected, After(HistoryOf(history)).State);

    [Fact]
    public void A_plan_of_nothing_but_the_publication_is_never_in_the_bank()
    {
        var release = After(Planned with { Stages = [Stage("publish", publication: true)] });

        Assert.Equal(ReleaseState.Planned, release.State);
        Assert.Equal(ReleaseState.Closed, Release.Evolve(release, 2, Completed("publish")).State);
    }

    [Fact]
    public void Open_stages_are_those_that_can_be_worked_on_or_are_held_up()
    {
        var release = After(Planned, Completed("outline"), Blocked("recording"));

        Assert.Equal(["recording", "show-notes"], release.OpenStages);
    }

    private static IEnumerable<ReleaseEvent> HistoryOf(string history) => history switch
    {
        "planned" => [Planned],
        "started" => [Planned, Started("outline")],
        "blocked" => [Planned, Blocked("recording")],
        "skipped" => [Planned, Skipped("recording")],
        "reopened" => [Planned, Completed("outline"), Reopened("outline")],
        "all but one made" => Made.SkipLast(1),
        "made" => Made,
        "made, one skipped" => [.. Made.SkipLast(1), Skipped("show-notes")],
        "made, publication started" => [.. Made, Started("publish", 5)],
        "published" => Published,
        "published out of order" => [Planned, Completed("publish", outOfOrder: true)],
        "published, one followed up" => [.. Published, Completed("announce", 6)],
        "published, followed up" => [.. Published, Completed("announce", 6), Skipped("reader-letter", 7)],
        "unpublished" => [.. Published, Reopened("publish", 6)],
        "dropped" => [.. Made, new ReleaseDropped("guest ill", At(9), At(9))],
        "restored" => [.. Made, new ReleaseDropped("guest ill", At(9), At(9)), new ReleaseRestored(At(9), At(9))],
        _ => throw new ArgumentException(history, nameof(history)),
    };
}

public sealed class DueDatesTests
{
    private static readonly Instant SlotAt = Instant.FromUtc(2026, 3, 12, 7, 0);

    [Fact]
    public void What_makes_a_release_is_due_at_its_slot_and_follow_ups_count_from_there()
    {
        var due = DueDates.Of(After(Planned), SlotAt);

        Assert.All(["outline", "final-mix", "show-notes", "publish"], stage => Assert.Equal(SlotAt, due[stage]));
        Assert.Equal(SlotAt + Duration.FromDays(1), due["announce"]);
        Assert.Equal(SlotAt + Duration.FromDays(2), due["reader-letter"]);
    }

    [Fact]
    public void Once_published_follow_ups_count_from_the_publication()
    {
        var due = DueDates.Of(After(Published), SlotAt);

        Assert.Equal(At(5) + Duration.FromDays(1), due["announce"]);
        Assert.Equal(SlotAt, due["outline"]);
    }

    [Fact]
    public void Without_a_slot_only_follow_ups_of_a_publication_are_due()
    {
        Assert.All(DueDates.Of(After(Planned), null).Values, due => Assert.Null(due));
        Assert.Equal(At(5) + Duration.FromDays(1), DueDates.Of(After(Published), null)["announce"]);
        Assert.Null(DueDates.Of(After(Published), null)["publish"]);
    }

    [Fact]
    public void A_follow_up_without_a_within_is_due_with_the_publication()
    {
        var release = After(Planned with { Stages = [Stage("publish", publication: true), Stage("site", "publish")] });

        Assert.Equal(SlotAt, DueDates.Of(release, SlotAt)["site"]);
    }
}
