using CsCheck;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Domain.Tests.Webhooks;

/// <summary>
/// How an endpoint that fails is spared, and when it is disabled. Standard Webhooks 1.0.0 asks for both and leaves the
/// numbers open; they are promised in our own documentation.
/// </summary>
public class CircuitTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 5, 7, 0);
    private static readonly DeliveryVerdict Delivered = new(VerdictKind.Delivered);
    private static readonly DeliveryVerdict Failed = new(VerdictKind.RetryAt, Start);
    private static readonly DeliveryVerdict Throttled = new(VerdictKind.Throttled, Start);
    private static readonly DeliveryVerdict Gone = new(VerdictKind.Gone);

    [Fact]
    public void Five_failures_in_a_row_leave_only_the_head_of_the_queue_to_probe()
    {
        var four = After(Circuit.Closed, 4, Failed);
        var fifth = four.After(Throttled, Start);

        Assert.True(four.MaySend(isHead: false));
        Assert.True(fifth.Opens);
        Assert.True(fifth.After.MaySend(isHead: true));
        Assert.False(fifth.After.MaySend(isHead: false));
        Assert.False(fifth.After.After(Failed, Start).Opens);
    }

    [Fact]
    public void A_success_between_starts_the_count_anew_and_releases_nothing()
    {
        var step = After(Circuit.Closed, 4, Failed).After(Delivered, Start);

        Assert.Equal(new CircuitStep(Circuit.Closed), step);
        Assert.False(After(step.After, 4, Failed).IsOpen);
    }

    [Fact]
    public void The_first_success_closes_it_and_releases_what_waits()
    {
        var step = After(Circuit.Closed, 9, Failed).After(Delivered, Start);

        Assert.Equal(new CircuitStep(Circuit.Closed, ReleasesBacklog: true), step);
        Assert.True(step.After.MaySend(isHead: false));
    }

    [Fact]
    public void Gone_disables_it_at_once_and_a_late_answer_enables_nothing()
    {
        var step = Circuit.Closed.After(Gone, Start);

        Assert.True(step.Disables);
        Assert.Equal(DisabledReason.Gone, step.After.Disabled);
        Assert.False(step.After.MaySend(isHead: true));
        Assert.Equal(new CircuitStep(step.After), step.After.After(Delivered, Start));
    }

    [Theory]
    [InlineData(9, 7 * 24 * 60, false)]
    [InlineData(10, (7 * 24 * 60) - 1, false)]
    [InlineData(10, 7 * 24 * 60, true)]
    [InlineData(30, 7 * 24 * 60, true)]
    public void It_is_disabled_after_7_days_without_a_success_and_10_attempts(int failures, int minutes, bool expected)
    {
        var before = After(Circuit.Closed, failures - 1, Failed);

        var step = before.After(Failed, Start + Duration.FromMinutes(minutes));

        Assert.Equal(expected, step.Disables);
        Assert.Equal(expected ? DisabledReason.Failing : null, step.After.Disabled);
    }

    [Fact]
    public void Days_without_messages_are_no_failure()
    {
        var idle = Circuit.Closed.After(Delivered, Start).After;
        var monthLater = Start + Duration.FromDays(30);

        var failing = Enumerable.Range(0, 12).Aggregate(
            idle, (circuit, i) => circuit.After(Failed, monthLater + Duration.FromMinutes(i)).After);

        Assert.Null(failing.Disabled);
        Assert.Equal(monthLater, failing.FailingSince);
    }

    [Fact]
    public void What_says_nothing_of_the_receiver_changes_nothing()
    {
        var four = After(Circuit.Closed, 4, Failed);

        Assert.Equal(
            new CircuitStep(four), four.After(new(VerdictKind.DeadLettered, ConcernsReceiver: false), Start));
    }

    [Fact]
    public void One_dead_endpoint_is_disabled_within_the_attempts_of_one_message() => Gen.Double[0, 1].Sample(share =>
    {
        var (circuit, at, attempts) = (Circuit.Closed, Start, 0);

        while (circuit.Disabled is null)
        {
            var verdict = DeliveryVerdict.Of(AttemptOutcome.Answered(503), ++attempts, at, share);
            circuit = circuit.After(verdict, at).After;
            at = verdict.NextAt ?? at;
        }

        Assert.InRange(attempts, 10, RetrySchedule.MostAttempts);
        Assert.True(at - Start >= Circuit.DisabledAfter);
    });

    private static Circuit After(Circuit circuit, int times, DeliveryVerdict verdict) =>
        Enumerable.Range(0, times).Aggregate(circuit, (now, _) => now.After(verdict, Start).After);
}
