using Releasekit.Domain.Schedule;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class SetCadenceTests
{
    private static readonly CadenceTerms Evenings = Thursdays with { Time = new(17, 0), Start = Twelfth };
    private static readonly CadenceTerms Fridays = Thursdays with { Rrule = "FREQ=WEEKLY;BYDAY=FR", Start = Twelfth };

    [Fact]
    public void A_rule_holds_from_its_date_and_the_past_keeps_the_one_it_had()
    {
        var story = Given()
            .When(series => SeriesDecider.SetCadence(series, Fridays, Twelfth, Before))
            .Then(new CadenceSet(Fridays, Twelfth, Before));

        Assert.Equal("5@7 13@7 20@7 27@7", InMarch(story.State!));
    }

    [Fact]
    public void The_rule_it_has_changes_nothing() => Given(new CadenceSet(Fridays, Twelfth, Before))
        .When(series => SeriesDecider.SetCadence(series, Fridays, Twelfth, Later))
        .ThenNothing();

    [Fact]
    public void A_rule_cannot_hold_from_the_past() => Given()
        .When(series => SeriesDecider.SetCadence(series, Fridays, March(11), Later))
        .ThenRefused("cadence.from_past", "/from");

    [Fact]
    public void What_is_past_is_told_by_the_clocks_of_the_new_rule() => Given()
        .When(series => SeriesDecider.SetCadence(
            series, Fridays with { Zone = "Pacific/Auckland" }, Twelfth, SlotAt + Duration.FromHours(4)))
        .ThenRefused("cadence.from_past", "/from");

    [Fact]
    public void Todays_slot_stays_when_its_time_has_passed() =>
        Assert.Equal("5@7 12@7 19@17 26@17", InMarch(After(new CadenceSet(Evenings, Twelfth, Later))));

    [Fact]
    public void Todays_slot_is_the_new_rules_when_its_time_was_to_come() =>
        Assert.Equal(
            "5@7 12@17 19@17 26@17", InMarch(After(new CadenceSet(Evenings, Twelfth, SlotAt - Duration.Epsilon))));

    [Fact]
    public void A_new_rule_promises_nothing_for_the_hours_that_are_past() => Assert.Equal(
        "5@7 12@7 20@7 27@7",
        InMarch(After(new CadenceSet(Fridays, March(13), Instant.FromUtc(2026, 3, 13, 12, 0)))));

    [Fact]
    public void A_later_rule_is_replaced_by_one_that_comes_before_it() => Assert.Equal(
        "5@7 13@7 20@7 27@7", InMarch(After(
            new CadenceSet(Evenings, March(19), Before), new CadenceSet(Fridays, Twelfth, Before + Duration.Epsilon))));

    [Fact]
    public void A_rule_set_before_another_that_follows_it_holds_until_then() => Assert.Equal(
        "5@7 13@7 19@17 26@17", InMarch(After(
            new CadenceSet(Fridays, Twelfth, Before), new CadenceSet(Evenings, March(19), Before))));

    [Fact]
    public void A_slot_that_a_replaced_rule_promised_and_whose_time_has_come_stays()
    {
        var morning = Thursdays with { Time = new(9, 0), Start = Twelfth };
        var early = Instant.FromUtc(2026, 3, 12, 6, 0);
        var series = After(new CadenceSet(morning, Twelfth, early), new CadenceSet(Evenings, Twelfth, Later));

        Assert.Equal("5@7 12@9 19@17 26@17", InMarch(series));
        Assert.Equal(9, Slot(series).PromisedAt.InUtc().Hour);
    }

    [Fact]
    public void A_slot_moved_forward_and_past_stays_under_the_rule_that_promised_it() => Assert.Equal(
        "5@7 12@9 13@7 20@7 27@7", InMarch(After(
            Moved(March(10) + new LocalTime(9, 0), Before),
            new CadenceSet(Fridays, March(11), Instant.FromUtc(2026, 3, 11, 12, 0)))));

    [Fact]
    public void A_slot_gets_a_higher_revision_with_every_rule()
    {
        CadenceSet[] rules =
        [
            new(Evenings, Twelfth, Before),
            new(Evenings with { Time = new(18, 0) }, Twelfth, Before + Duration.FromHours(1)),
        ];

        Assert.Equal([0, 1, 2], Enumerable.Range(0, 3).Select(i => Slot(After(rules.Take(i))).Revision));
    }

    [Fact]
    public void A_rule_that_does_not_fit_the_settings_is_refused() => Given(
            new SeriesAmended("Mudflat Weekly", "audio", new(LateWindow: Duration.FromDays(5)), Before))
        .When(series => SeriesDecider.SetCadence(
            series, Thursdays with { Rrule = "FREQ=WEEKLY;BYDAY=MO,TH" }, Twelfth, Before))
        .ThenRefused("series.settings_invalid");
}
