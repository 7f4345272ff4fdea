using CsCheck;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Domain.Tests.Webhooks;

/// <summary>
/// When messages are sent again. The steps and the window are promised in our own documentation; that retries go over
/// several days with jitter is Standard Webhooks 1.0.0, "Deliverability and reliability".
/// </summary>
public class RetryScheduleTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 5, 7, 0);

    [Fact]
    public void There_are_18_attempts_over_7_days_3_hours_and_52_minutes()
    {
        var expected = new[]
        {
            "5 s", "30 s", "2 m", "5 m", "15 m", "30 m", "1 h", "2 h", "4 h", "8 h", "12 h", "24 h", "24 h", "24 h",
            "24 h", "24 h", "24 h",
        };

        var times = Times(share: 0);

        Assert.Equal(18, RetrySchedule.MostAttempts);
        Assert.Equal(18, times.Count);
        Assert.Equal(expected, times.Zip(times.Skip(1), (from, to) => Written(to - from)));
        Assert.Equal(Duration.FromSeconds((((((7 * 24) + 3) * 60) + 52) * 60) + 35), times[^1] - Start);
        Assert.Equal(RetrySchedule.Window, times[^1] - Start);
    }

    [Fact]
    public void Jitter_only_lengthens_and_by_a_quarter_at_most() => Gen.Double[0, 1].Sample(share =>
    {
        var (floor, jittered) = (Times(0), Times(share));

        Assert.Equal(floor.Count, jittered.Count);
        Assert.InRange(
            (jittered[^1] - Start).TotalSeconds,
            RetrySchedule.Window.TotalSeconds, RetrySchedule.Window.TotalSeconds * 1.25);
        Assert.Equal(1 + (share * 0.25), (jittered[^1] - Start) / RetrySchedule.Window, 6);
    });

    [Fact]
    public void Messages_that_failed_at_once_do_not_come_back_at_once()
    {
        // 1,000 messages fail for the seventh time in the same instant; an hour's wait spreads over 15 minutes.
        var random = new Random(20260305);
        var due = Enumerable.Range(0, 1_000).Select(_ => RetrySchedule.Next(7, Start, random.NextDouble())!.Value);

        var seconds = due.GroupBy(at => (long)(at - Start).TotalSeconds).Select(second => second.Count());

        // 1.1 a second on average; Poisson with that mean gives more than 8 in a second once in a million.
        Assert.InRange(seconds.Max(), 1, 8);
    }

    [Theory]
    [InlineData("120", 120)]
    [InlineData(" 120 ", 120)]
    [InlineData("3", 5)]
    [InlineData("0", 5)]
    [InlineData("86400", 86_400)]
    [InlineData("86401", 86_400)]
    [InlineData("999999999", 86_400)]
    [InlineData("99999999999999999999999999", 86_400)]
    [InlineData("Thu, 05 Mar 2026 07:10:00 GMT", 600)]
    [InlineData("Thursday, 05-Mar-26 07:10:00 GMT", 600)]
    [InlineData("Thu Mar  5 07:10:00 2026", 600)]
    [InlineData("Sat, 05 Mar 2050 07:10:00 GMT", 86_400)]
    [InlineData("-1", 5)]
    [InlineData("1.5", 5)]
    [InlineData("soon", 5)]
    [InlineData("２", 5)]
    [InlineData("2026-03-05T09:00:00Z", 5)]
    [InlineData("Thu, 05 Mar 2026 07:10:00 +0100", 5)]
    [InlineData("Fri, 31 Dec 1999 23:59:59 GMT", 5)]
    [InlineData("", 5)]
    [InlineData(null, 5)]
    public void A_receiver_may_ask_for_more_time_and_junk_is_ignored(string? header, int expectedSeconds)
    {
        // RFC 9110, 10.2.3 and the three spellings of 5.6.7; the cap of 24 hours is ours.
        var asked = RetryAfter.Read(header, Start);

        Assert.Equal(
            Start + Duration.FromSeconds(expectedSeconds), RetrySchedule.Next(1, Start, share: 0, asked));
    }

    [Fact]
    public void A_share_that_is_none_and_an_attempt_before_the_first_are_mistakes()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => RetrySchedule.Next(1, Start, 1.01));
        Assert.Throws<ArgumentOutOfRangeException>(() => RetrySchedule.Next(1, Start, -0.01));
        Assert.Throws<ArgumentOutOfRangeException>(() => RetrySchedule.Next(0, Start, 0));
    }

    private static List<Instant> Times(double share)
    {
        var times = new List<Instant> { Start };

        while (RetrySchedule.Next(times.Count, times[^1], share) is { } next)
        {
            times.Add(next);
        }

        return times;
    }

    private static string Written(Duration wait) => wait switch
    {
        { TotalHours: >= 1 } => $"{wait.TotalHours} h",
        { TotalMinutes: >= 1 } => $"{wait.TotalMinutes} m",
        _ => $"{wait.TotalSeconds} s",
    };
}
