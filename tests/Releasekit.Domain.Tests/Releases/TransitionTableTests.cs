using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

/// <summary>The table of <see cref="StageDecider"/>, cell by cell, for a stage that follows an open one.</summary>
public sealed class TransitionTableTests
{
    [Theory]
    [InlineData("waiting", StageState.Started, "started")]
    [InlineData("waiting", StageState.Completed, "completed out of order")]
    [InlineData("waiting", StageState.Skipped, "skipped")]
    [InlineData("waiting", StageState.Blocked, "blocked")]
    [InlineData("waiting", StageState.Ready, "stage.waiting")]
    [InlineData("waiting", StageState.Waiting, "")]
    [InlineData("ready", StageState.Started, "started")]
    [InlineData("ready", StageState.Completed, "completed")]
    [InlineData("ready", StageState.Skipped, "skipped")]
    [InlineData("ready", StageState.Blocked, "blocked")]
    [InlineData("ready", StageState.Ready, "")]
    [InlineData("ready", StageState.Waiting, "stage.waiting")]
    [InlineData("started", StageState.Started, "")]
    [InlineData("started", StageState.Completed, "completed")]
    [InlineData("started", StageState.Skipped, "skipped")]
    [InlineData("started", StageState.Blocked, "blocked")]
    [InlineData("started", StageState.Ready, "stage.started")]
    [InlineData("started", StageState.Waiting, "stage.waiting")]
    [InlineData("blocked", StageState.Started, "unblocked, started")]
    [InlineData("blocked", StageState.Completed, "unblocked, completed")]
    [InlineData("blocked", StageState.Skipped, "skipped")]
    [InlineData("blocked", StageState.Blocked, "")]
    [InlineData("blocked", StageState.Ready, "unblocked")]
    [InlineData("started, blocked", StageState.Started, "unblocked")]
    [InlineData("started, blocked", StageState.Completed, "unblocked, completed")]
    [InlineData("started, blocked", StageState.Ready, "unblocked")]
    [InlineData("completed", StageState.Started, "stage.done")]
    [InlineData("completed", StageState.Completed, "")]
    [InlineData("completed", StageState.Skipped, "stage.done")]
    [InlineData("completed", StageState.Blocked, "stage.done")]
    [InlineData("completed", StageState.Ready, "reopened")]
    [InlineData("completed", StageState.Waiting, "stage.done")]
    [InlineData("skipped", StageState.Started, "stage.done")]
    [InlineData("skipped", StageState.Completed, "stage.done")]
    [InlineData("skipped", StageState.Skipped, "")]
    [InlineData("skipped", StageState.Blocked, "stage.done")]
    [InlineData("skipped", StageState.Ready, "reopened")]
    [InlineData("reopened", StageState.Ready, "")]
    [InlineData("reopened", StageState.Completed, "completed")]
    [InlineData("reopened, waiting", StageState.Ready, "")]
    [InlineData("unblocked, waiting", StageState.Ready, "")]
    [InlineData("started, unblocked", StageState.Ready, "")]
    [InlineData("started, unblocked", StageState.Started, "")]
    [InlineData("unblocked, waiting", StageState.Started, "started")]
    public void A_stage_moves_as_the_table_says(string from, StageState to, string expected)
    {
        var decision = StageDecider.Record(
            After([Planned, .. Before(from)]), "recording", to, "a reason", url: null, happenedAt: null, Now);

        Assert.Equal(expected, decision.Refusal?.Code ?? string.Join(", ", decision.Select(Word)));
        Assert.All(decision, e => Assert.Equal((Now, Now), (e.OccurredAt, e.RecordedAt)));
    }

    private static IEnumerable<ReleaseEvent> Before(string from)
    {
        ReleaseEvent outline = Completed("outline", 1);

        return from switch
        {
            "waiting" => [],
            "ready" => [outline],
            "started" => [outline, Started("recording", 2)],
            "blocked" => [outline, Blocked("recording", 2)],
            "started, blocked" => [outline, Started("recording", 2), Blocked("recording", 3)],
            "completed" => [outline, Completed("recording", 2)],
            "skipped" => [outline, Skipped("recording", 2)],
            "reopened" => [outline, Completed("recording", 2), Reopened("recording", 3)],
            "reopened, waiting" => [Completed("recording", 2), Reopened("recording", 3)],
            "unblocked, waiting" => [Blocked("recording", 2), Unblocked("recording", 3)],
            "started, unblocked" =>
                [outline, Started("recording", 1), Blocked("recording", 2), Unblocked("recording", 3)],
            _ => throw new ArgumentException(from, nameof(from)),
        };
    }

    private static string Word(ReleaseEvent happened) => happened switch
    {
        StageStarted => "started",
        StageCompleted { OutOfOrder: true } => "completed out of order",
        StageCompleted => "completed",
        StageSkipped => "skipped",
        StageBlocked => "blocked",
        StageUnblocked => "unblocked",
        StageReopened => "reopened",
        _ => happened.GetType().Name,
    };
}
