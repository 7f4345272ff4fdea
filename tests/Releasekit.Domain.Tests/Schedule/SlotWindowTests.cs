using Releasekit.Domain.Schedule;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class SlotWindowTests
{
    [Theory]
    [InlineData("FREQ=DAILY", "2026-02-10", 12, 12, 12)]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "2026-02-12", 72, 144, 24)]
    [InlineData("FREQ=WEEKLY;BYDAY=MO,WE,FR", "2026-02-09", 36, 24, 24)]
    [InlineData("FREQ=WEEKLY;BYDAY=MO,WE,FR", "2026-02-13", 24, 48, 24)]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=1", "2026-02-01", 72, 648, 24)]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=1", "2026-01-01", 72, 720, 24)]
    [InlineData("FREQ=DAILY;COUNT=1", "2026-01-01", 72, 144, 24)]
    [InlineData("FREQ=DAILY;INTERVAL=2;COUNT=2", "2026-01-03", 24, 24, 24)]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "2026-03-26", 72, 143, 24)]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "2026-10-22", 72, 145, 24)]
    [InlineData("FREQ=DAILY", "2026-03-29", 11.5, 12, 12)]
    public void Windows_follow_from_the_gaps_in_elapsed_time(
        string rrule, string date, double early, double late, double tolerance)
    {
        var series = Story.OfSeries.Given(Opened, FirstRule with { Terms = Thursdays with { Rrule = rrule } }).State!;
        var slot = Slot(series, NodaTime.Text.LocalDatePattern.Iso.Parse(date).Value);

        Assert.Equal((early, late), (slot.EarlyWindow.TotalHours, slot.LateWindow.TotalHours));
        Assert.Equal(tolerance, SlotCalendar.ToleranceOf(series).TotalHours);
    }

    [Fact]
    public void A_weekly_seven_stays_seven_through_the_change_of_clocks() => Assert.Equal(
        [7, 7, 6],
        SlotCalendar.Between(After(), March(19), new(2026, 4, 3)).Select(slot => slot.At.InUtc().Hour));

    [Fact]
    public void What_is_set_by_hand_holds_for_every_slot()
    {
        var settings = new SeriesSettings(Duration.FromHours(1), Duration.FromHours(2), Duration.FromHours(3));
        var series = After(new SeriesAmended("Mudflat Weekly", "audio", settings, Later));

        Assert.All(SlotCalendar.Between(series, March(1), March(30)), slot =>
            Assert.Equal((settings.EarlyWindow, settings.LateWindow), (slot.EarlyWindow, slot.LateWindow)));
        Assert.Equal(settings.OnTimeTolerance, SlotCalendar.ToleranceOf(series));
    }

    [Fact]
    public void A_late_window_shorter_than_a_day_shortens_the_tolerance_nobody_set()
    {
        var settings = new SeriesSettings(LateWindow: Duration.FromHours(3));

        Assert.Equal(3, SlotCalendar.ToleranceOf(After(new SeriesAmended("M", "audio", settings, Later))).TotalHours);
    }

    [Fact]
    public void There_is_no_slot_where_the_rule_has_none()
    {
        Assert.Null(SlotCalendar.Find(After(), March(13)));
        Assert.Null(SlotCalendar.Find(After(), new(2025, 12, 25)));
    }
}
