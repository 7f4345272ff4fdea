using Releasekit.Domain.Schedule;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class OpenSeriesTests
{
    [Fact]
    public void A_series_is_opened_with_its_first_rule_which_may_start_in_the_past() => Story.OfSeries
        .When(_ => Open())
        .Then(Opened with { RecordedAt = Later }, FirstRule with { RecordedAt = Later });

    [Theory]
    [InlineData("Mudflat", "Mudflat Weekly", "series.invalid", "/id")]
    [InlineData("mudflat-weekly", "", "title.invalid", "/title")]
    public void Its_id_and_title_are_well_formed(string slug, string title, string refused, string member) =>
        Story.OfSeries.When(_ => Open(slug, title)).ThenRefused(refused, member);

    [Theory]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "Mars/Olympus", 2026, "zone.unknown", "/cadence/zone")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "UTC+03", 2026, "zone.unknown", "/cadence/zone")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "UTC", 1969, "cadence.start_invalid", "/cadence/start")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "UTC", 2200, "cadence.start_invalid", "/cadence/start")]
    [InlineData("FREQ=HOURLY", "UTC", 2026, "cadence.rule_too_frequent", "/cadence/rrule")]
    [InlineData("EVERY THURSDAY", "UTC", 2026, "cadence.rule_invalid", "/cadence/rrule")]
    [InlineData("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "UTC", 2026, "cadence.rule_empty", "/cadence/rrule")]
    public void Its_cadence_is_one_slot_a_day_at_most(
        string rrule, string zone, int year, string refused, string member) =>
        Story.OfSeries
            .When(_ => Open(terms: new(rrule, new(year, 1, 1), Seven, zone)))
            .ThenRefused(refused, member);

    [Fact]
    public void Every_fault_of_its_settings_is_told()
    {
        var refusal = Open(settings: new(-Duration.Epsilon, -Duration.Epsilon, Duration.FromDays(7), 1.1)).Refusal!;

        Assert.Equal("series.settings_invalid", refusal.Code);
        Assert.Equal(
            ["/onTimeTolerance", "/earlyWindow", "/lateWindow", "/riskThreshold"],
            refusal.Faults.Select(fault => fault.Member));
    }

    private static Decision<SeriesEvent> Open(
        string slug = "mudflat-weekly", string title = "Mudflat Weekly", CadenceTerms? terms = null,
        SeriesSettings? settings = null) =>
        SeriesDecider.Open(Id, slug, title, "audio", terms ?? Thursdays, settings ?? new(), Later);
}

public sealed class AmendSeriesTests
{
    [Fact]
    public void Title_plan_and_settings_change_together() => Given()
        .When(series => SeriesDecider.Amend(series, "Mudflat", "short", new(Duration.FromHours(2)), Later))
        .Then(new SeriesAmended("Mudflat", "short", new(Duration.FromHours(2)), Later));

    [Fact]
    public void What_it_has_changes_nothing() => Given()
        .When(series => SeriesDecider.Amend(series, "Mudflat Weekly", "audio", new(), Later))
        .ThenNothing();

    [Fact]
    public void A_title_is_needed() => Given()
        .When(series => SeriesDecider.Amend(series, " ", "audio", new(), Later))
        .ThenRefused("title.invalid", "/title");

    [Theory]
    [InlineData(167, null, null)]
    [InlineData(168, null, "/lateWindow")]
    [InlineData(100, 100, null)]
    [InlineData(100, 101, "/onTimeTolerance")]
    [InlineData(null, 144, null)]
    [InlineData(null, 145, "/onTimeTolerance")]
    public void The_late_window_is_shorter_than_the_gap_and_holds_the_tolerance(
        int? late, int? tolerance, string? fault)
    {
        var settings = new SeriesSettings(Hours(tolerance), null, Hours(late));
        var decision = SeriesDecider.Amend(After(), "Mudflat Weekly", "audio", settings, Later);

        Assert.Equal(fault, decision.Refusal?.Faults.Single().Member);
    }

    private static Duration? Hours(int? hours) => hours is { } given ? Duration.FromHours(given) : null;
}

public sealed class CloseSeriesTests
{
    [Fact]
    public void Closing_ends_the_promise_and_keeps_what_was_promised()
    {
        var story = Given().When(series => SeriesDecider.Close(series, Later)).Then(new SeriesClosed(Later));

        Assert.Equal("5@7 12@7", InMarch(story.State!));
        story.When(series => SeriesDecider.Close(series, Later)).ThenNothing();
    }

    [Fact]
    public void A_slot_moved_forward_and_past_stays_when_the_series_is_closed_before_its_old_time() => Assert.Equal(
        "5@7 12@9", InMarch(After(
            Moved(March(10) + new LocalTime(9, 0), Before),
            new SeriesClosed(SlotAt - Duration.FromDays(1)))));

    [Fact]
    public void Nothing_is_promised_for_a_closed_series()
    {
        var story = Given(new SeriesClosed(Later));

        story.When(series => SeriesDecider.SetCadence(series, Thursdays, March(20), Later))
            .ThenRefused("series.closed");
        story.When(series => SeriesDecider.PlanBreak(series, Pause, March(20), March(21), null, Later))
            .ThenRefused("series.closed");
    }
}
