using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Learning;

/// <summary>Forecasts that are kept day by day and scored when their slot has passed.</summary>
public class CalibrationTests(Service service)
{
    [Fact]
    public async Task What_was_told_each_day_is_kept_and_compared_with_what_came()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(MadeWeeks.Monday9(0));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(client, effort: Duration.FromHours(4));

        // Two slots are met, the third one is not: all were told at 100 %, from the guesses.
        foreach (var week in new[] { 0, 1, 2 })
        {
            await OneWeek(own, client, week, isMet: week < 2);
        }

        var before = await client.Learning.Calibration(
            MadeWeeks.Series, to: MadeWeeks.Slot(3), at: MadeWeeks.Monday9(2, 60)).Value();
        var scored = await client.Learning.Calibration(MadeWeeks.Series).Value();

        var lead = scored.ByLead[0];
        Assert.Equal([1, 3, 7, 14], scored.ByLead.Select(one => one.LeadDays));
        Assert.Equal((3, 0, 2 / 3.0), (lead.Met.N, lead.NotYetScored, lead.Met.Rate!.Value));
        Assert.Equal(1 / 3.0, lead.Met.Score!.Value, 12);
        Assert.Equal(
            lead.Met.Score!.Value,
            lead.Met.Reliability!.Value - lead.Met.Resolution!.Value + lead.Met.Uncertainty!.Value, 12);
        Assert.Equal((1.0, 3), (lead.Met.Table.Single().MeanForecast, lead.Met.Table.Single().Observed.N));
        Assert.Equal((2, 1), (before.ByLead[0].Met.N, before.ByLead[0].NotYetScored));
        Assert.Equal(0, scored.ByLead[2].Met.N);
        Assert.Equal(3, lead.Dates.Single(dates => dates.Percent == 85).Hit.N);
    }

    [Fact]
    public async Task A_day_has_one_forecast_and_knowing_better_afterwards_changes_none()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(MadeWeeks.Monday9(0));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(client, effort: Duration.FromHours(4));
        var release = await MadeWeeks.Planned(client, 0, MadeWeeks.Monday9(0));

        await own.KeepForecasts();
        await client.Record(release, "cut", StageState.Completed);
        await own.KeepForecasts();
        var once = await client.Learning.Calibration(MadeWeeks.Series, to: MadeWeeks.Slot(4)).Value();
        own.Clock.StandAt(MadeWeeks.Monday9(0, 24));
        await own.KeepForecasts();
        var twice = await client.Learning.Calibration(MadeWeeks.Series, to: MadeWeeks.Slot(4)).Value();

        Assert.Equal((1, 2), (once.Kept, twice.Kept));
    }

    [Fact]
    public async Task A_slot_that_was_moved_in_time_takes_its_forecasts_out()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(MadeWeeks.Monday9(0));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(client, effort: Duration.FromHours(4));
        await MadeWeeks.Planned(client, 0, MadeWeeks.Monday9(0));
        await own.KeepForecasts();

        var slot = await client.Series.Slots(MadeWeeks.Series, MadeWeeks.Slot(0), MadeWeeks.Slot(1)).Value();
        await client.Series.ChangeSlot(
            MadeWeeks.Series, slot.Items[0].Date, new(MoveTo: MadeWeeks.Slot(0).PlusDays(1) + new LocalTime(7, 0)));
        own.Clock.StandAt(MadeWeeks.Monday9(2));
        var scored = await client.Learning.Calibration(MadeWeeks.Series).Value();

        Assert.Equal((1, 0), (scored.Kept, scored.ByLead[0].Met.N));
    }

    [Fact]
    public async Task A_poor_forecast_warns_of_the_slot_before_its_latest_start()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(MadeWeeks.Monday9(5));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(client, effort: Duration.FromHours(1), tolerance: Duration.FromHours(1));

        foreach (var week in Enumerable.Range(0, 5))
        {
            await MadeWeeks.Made(client, week, hours: 1, late: week < 4 ? 30 : 0);
        }

        await MadeWeeks.Planned(client, 5, MadeWeeks.Monday9(5));
        await own.Remind();
        var before = await client.Events.List(type: "slot.at_risk").Value();
        await own.KeepForecasts();
        await own.Remind();
        await own.Remind();
        var told = await client.Events.List(type: "slot.at_risk").Value();

        // One past slot of five was met; the series wants four of five.
        Assert.Empty(before.Items);
        var data = Assert.Single(told.Items).Data;
        Assert.InRange(data.GetProperty("chance").GetDouble(), 0.18, 0.22);
        Assert.Equal("2026-02-12", data.GetProperty("slot").GetString());
    }

    private static async Task OneWeek(Service own, ReleasekitClient client, int week, bool isMet)
    {
        own.Clock.StandAt(MadeWeeks.Monday9(week));
        var release = await MadeWeeks.Planned(client, week, MadeWeeks.Monday9(week));

        foreach (var day in new[] { 0, 1, 2 })
        {
            own.Clock.StandAt(MadeWeeks.Monday9(week, (24 * day) - 3));
            await own.KeepForecasts();
        }

        own.Clock.StandAt(MadeWeeks.Monday9(week, 60));
        await client.Record(release, "cut", StageState.Completed);
        own.Clock.StandAt(MadeWeeks.Monday9(week, isMet ? 70 : 110));
        await client.Record(release, "publish", StageState.Completed);
    }
}
