using Releasekit.Domain.Webhooks;

namespace Releasekit.Domain.Tests.Webhooks;

/// <summary>
/// What follows from an answer: Standard Webhooks 1.0.0, "Deliverability and reliability" (only 2xx is success, 410
/// ends it, 429, 502 and 504 throttle).
/// </summary>
public class DeliveryVerdictTests
{
    private static readonly Instant At = Instant.FromUtc(2026, 3, 5, 7, 0);

    [Theory]
    [InlineData(200, null, VerdictKind.Delivered, null)]
    [InlineData(204, null, VerdictKind.Delivered, null)]
    [InlineData(299, "120", VerdictKind.Delivered, null)]
    [InlineData(302, null, VerdictKind.RetryAt, 5)]
    [InlineData(304, null, VerdictKind.RetryAt, 5)]
    [InlineData(400, "120", VerdictKind.RetryAt, 5)]
    [InlineData(404, null, VerdictKind.RetryAt, 5)]
    [InlineData(410, null, VerdictKind.Gone, null)]
    [InlineData(429, null, VerdictKind.Throttled, 5)]
    [InlineData(429, "120", VerdictKind.Throttled, 120)]
    [InlineData(429, "999999999", VerdictKind.Throttled, 86_400)]
    [InlineData(500, "120", VerdictKind.RetryAt, 5)]
    [InlineData(502, null, VerdictKind.Throttled, 5)]
    [InlineData(503, null, VerdictKind.RetryAt, 5)]
    [InlineData(503, "-1", VerdictKind.RetryAt, 5)]
    [InlineData(503, "120", VerdictKind.Throttled, 120)]
    [InlineData(504, null, VerdictKind.Throttled, 5)]
    public void An_answer_is_judged_by_its_status(int status, string? retryAfter, VerdictKind kind, int? seconds)
    {
        var verdict = DeliveryVerdict.Of(AttemptOutcome.Answered(status, retryAfter), attempts: 1, At, share: 0);

        Assert.Equal(kind, verdict.Kind);
        Assert.Equal(seconds is { } wait ? At + Duration.FromSeconds(wait) : null, verdict.NextAt);
        Assert.True(verdict.ConcernsReceiver);
    }

    [Fact]
    public void Without_an_answer_it_is_sent_again_unless_that_cannot_help()
    {
        foreach (var failure in Enum.GetValues<AttemptFailure>())
        {
            var verdict = DeliveryVerdict.Of(AttemptOutcome.Failed(failure), attempts: 3, At, share: 0);

            Assert.Equal(
                failure is AttemptFailure.NotWritable
                    ? new DeliveryVerdict(VerdictKind.DeadLettered, ConcernsReceiver: false)
                    : new DeliveryVerdict(
                        VerdictKind.RetryAt, At + Duration.FromMinutes(2), failure is not AttemptFailure.Interrupted),
                verdict);
        }
    }

    [Theory]
    [InlineData(17, VerdictKind.RetryAt)]
    [InlineData(18, VerdictKind.DeadLettered)]
    public void After_the_last_attempt_it_becomes_a_dead_letter(int attempts, VerdictKind expected) =>
        Assert.Equal(expected, DeliveryVerdict.Of(AttemptOutcome.Answered(500), attempts, At, share: 1).Kind);
}
