using System.Diagnostics;
using CsCheck;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class HostileRuleTests
{
    private static readonly LocalDate Start = new(2026, 1, 7);

    [Theory]
    [InlineData("FREQ=HOURLY", "cadence.rule_too_frequent")]
    [InlineData("FREQ=MINUTELY;COUNT=1000", "cadence.rule_too_frequent")]
    [InlineData("FREQ=SECONDLY;BYMONTH=2;BYMONTHDAY=30", "cadence.rule_too_frequent")]
    [InlineData("FREQ=MONTHLY;BYMONTH=2;BYMONTHDAY=30", "cadence.rule_empty")]
    [InlineData("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", "cadence.rule_empty")]
    [InlineData("FREQ=DAILY;INTERVAL=1000;BYMONTH=2;BYMONTHDAY=30", "cadence.rule_empty")]
    [InlineData("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30,31,-30", "cadence.rule_empty")]
    [InlineData("FREQ=DAILY;INTERVAL=7;BYDAY=TU", "cadence.rule_empty")]
    [InlineData("FREQ=WEEKLY;BYDAY=MO;BYSETPOS=6", "cadence.rule_empty")]
    [InlineData("FREQ=MONTHLY;BYDAY=6MO", "cadence.rule_empty")]
    [InlineData("FREQ=WEEKLY;UNTIL=20250101", "cadence.rule_empty")]
    [InlineData("FREQ=DAILY;COUNT=0", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;COUNT=1001", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;COUNT=99999999999999999999", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;INTERVAL=0", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;INTERVAL=-1", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;COUNT=3;UNTIL=20270101", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;UNTIL=20270230", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;UNTIL=20270101Z", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;BYHOUR=1,2,3", "cadence.rule_invalid")]
    [InlineData("FREQ=DAILY;FREQ=WEEKLY", "cadence.rule_invalid")]
    [InlineData("FREQ=FORTNIGHTLY", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY;", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY;BYDAY=", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY;BYDAY=1TH", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH,TH", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY;BYMONTHDAY=13", "cadence.rule_invalid")]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=0", "cadence.rule_invalid")]
    [InlineData("FREQ=MONTHLY;BYSETPOS=1", "cadence.rule_invalid")]
    [InlineData("FREQ=MONTHLY;X-MOON=FULL", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY; BYDAY=TH", "cadence.rule_invalid")]
    [InlineData("FREQ=WEEKLY\r\nBYDAY=TH", "cadence.rule_invalid")]
    [InlineData("RRULE:FREQ=WEEKLY", "cadence.rule_invalid")]
    [InlineData("", "cadence.rule_invalid")]
    public void A_rule_no_cadence_can_have_is_refused_at_once(string rrule, string code)
    {
        var watch = Stopwatch.StartNew();

        var rule = CadenceRule.TryParse(rrule, Start, out var refusal);

        Assert.Null(rule);
        Assert.Equal(code, refusal?.Code);
        Assert.Equal("/cadence/rrule", refusal?.Member);
        Assert.Contains("example", refusal?.Reason, StringComparison.OrdinalIgnoreCase);
        Assert.InRange(watch.ElapsedMilliseconds, 0, 900);
    }

    [Fact]
    public void Junk_is_refused_whatever_its_length()
    {
        foreach (var length in new[] { 200, 512, 513, 100_000 })
        {
            Assert.Null(CadenceRule.TryParse(new string('x', length), Start, out var refusal));
            Assert.InRange(refusal!.Reason.Length, 1, 300);
        }
    }

    [Fact]
    public void Lists_of_more_than_sixty_entries_are_refused()
    {
        var days = string.Join(',', Enumerable.Range(1, 61));

        Assert.Null(CadenceRule.TryParse($"FREQ=YEARLY;BYYEARDAY={days}", Start, out var refusal));
        Assert.Equal("cadence.rule_invalid", refusal?.Code);
    }

    [Fact]
    public void A_start_centuries_away_is_refused()
    {
        Assert.Null(CadenceRule.TryParse("FREQ=DAILY", new LocalDate(-4000, 1, 1), out var refusal));
        Assert.Equal("cadence.start_invalid", refusal?.Code);
    }

    [Fact]
    public void Any_shuffle_of_rule_parts_is_a_rule_or_a_refusal_and_never_a_crash() =>
        Gen.Select(
                Gen.OneOf("DAILY", "WEEKLY", "MONTHLY", "YEARLY"),
                Gen.OneOf("", ";BYDAY=MO", ";BYDAY=2TU,-1FR", ";BYDAY=SA,SU", ";BYDAY=53MO"),
                Gen.OneOf("", ";BYMONTHDAY=31", ";BYMONTHDAY=-31,13", ";BYYEARDAY=366,-1", ";BYWEEKNO=53,-53"),
                Gen.OneOf("", ";BYMONTH=2", ";BYMONTH=4,6,9,11", ";BYSETPOS=1,-1", ";BYSETPOS=366", ";WKST=SU"),
                Gen.OneOf("", ";INTERVAL=3", ";INTERVAL=1000", ";COUNT=5", ";UNTIL=20300101"))
            .Sample((frequency, days, numbers, months, bounds) =>
            {
                var rrule = $"FREQ={frequency}{days}{numbers}{months}{bounds}";
                var rule = CadenceRule.TryParse(rrule, Start, out var refusal);
                Assert.True(rule is null != refusal is null, rrule);
                Assert.True(rule is null || rule.After(Start.PlusDays(-1)) is not null, rrule);
            }, iter: 400, threads: 1);
}
