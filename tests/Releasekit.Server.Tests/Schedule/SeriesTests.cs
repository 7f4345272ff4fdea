using System.Net;
using Releasekit.Client;
using Releasekit.Client.Releases;
using Releasekit.Client.Schedule;

namespace Releasekit.Server.Tests.Schedule;

/// <summary>Cadence, breaks and slots through the API, on a service whose clock stands at 1 February 2026.</summary>
public sealed class SeriesTests(Service shared) : IAsyncLifetime
{
    private Service _service = null!;
    private ReleasekitClient _client = null!;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 2, 1, 12, 0));
        _client = (await _service.NewPublisher()).Client;
        await _client.GivenASeries();
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Theory]
    [InlineData("FREQ=HOURLY", "Europe/Lisbon", "cadence.rule_too_frequent")]
    [InlineData("FREQ=WEEKLY;BYDAY=XX", "Europe/Lisbon", "cadence.rule_invalid")]
    [InlineData("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "Europe/Lisbon", "cadence.rule_empty")]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "Mars/Olympus", "zone.unknown")]
    public async Task A_cadence_that_cannot_be_kept_is_refused(string rrule, string zone, string code)
    {
        var problem = await _client.Series
            .Open(new("other", "Other", "audio", new(rrule, new(7, 0), zone, new LocalDate(2026, 1, 1)))).Problem();

        Assert.Equal((422, code), (problem.Status, problem.Code));
    }

    [Fact]
    public async Task Windows_that_do_not_fit_the_rule_are_refused_each_by_its_member()
    {
        var problem = await _client.Series.Open(new(
            "other", "Other", "audio",
            new("FREQ=WEEKLY;BYDAY=TH", new(7, 0), "Europe/Lisbon", new LocalDate(2026, 1, 1)),
            OnTimeTolerance: Duration.FromDays(9), LateWindow: Duration.FromDays(7))).Problem();
        var unknownPlan = await _client.Series.Open(new(
            "other", "Other", "nothing", new("FREQ=WEEKLY;BYDAY=TH", new(7, 0), "Europe/Lisbon"))).Problem();

        Assert.Equal(["/lateWindow", "/onTimeTolerance"], problem.Errors!.Select(error => error.Place).Order());
        Assert.Equal((422, "stage_plan.unknown"), (unknownPlan.Status, unknownPlan.Code));
    }

    [Fact]
    public async Task A_weekly_slot_keeps_its_local_time_through_daylight_saving()
    {
        var slots = await _client.Series.Slots(Scenario.Series, new LocalDate(2026, 3, 20), new LocalDate(2026, 4, 5))
            .Value();

        // Lisbon leaves winter time on 29 March 2026 (tz database).
        Assert.Equal([Instant.FromUtc(2026, 3, 26, 7, 0), Instant.FromUtc(2026, 4, 2, 6, 0)],
            slots.Items.Select(slot => slot.At));
    }

    [Fact]
    public async Task A_new_cadence_leaves_the_past_and_takes_releases_off_vanished_slots()
    {
        var kept = await _client.GivenARelease("kept", new LocalDate(2026, 1, 22));
        var lost = await _client.GivenARelease("lost", new LocalDate(2026, 2, 12));
        var alsoLost = await _client.GivenARelease("also lost", new LocalDate(2026, 2, 19));

        var past = await _client.Series.SetCadence(
            Scenario.Series, new("FREQ=WEEKLY;BYDAY=MO", new(8, 0), new LocalDate(2026, 1, 31))).Problem();
        var change = await _client.Series
            .SetCadence(Scenario.Series, new("FREQ=WEEKLY;INTERVAL=2;BYDAY=MO", new(8, 0), new LocalDate(2026, 2, 9)),
                reassign: true).Value();

        Assert.Equal((422, "cadence.from_past"), (past.Status, past.Code));
        Assert.Empty(change.Unassigned);
        Assert.Equal(
            [(lost.Id, new LocalDate(2026, 2, 5)), (alsoLost.Id, new LocalDate(2026, 2, 9))],
            change.Reassigned.Select(release => (release.Id, release.Slot!.Value)));
        Assert.Equal(new LocalDate(2026, 1, 22), (await _client.Releases.Get(kept.Id).Value()).Slot!.Date);
        var slots = await _client.Series.Slots(Scenario.Series, new LocalDate(2026, 1, 29), new LocalDate(2026, 3, 1))
            .Value();
        Assert.Equal(
            [new LocalDate(2026, 1, 29), new(2026, 2, 5), new(2026, 2, 9), new(2026, 2, 23)],
            slots.Items.Select(slot => slot.Date));
    }

    [Fact]
    public async Task A_break_excuses_only_slots_whose_time_has_not_come()
    {
        var pause = await _client.Series.PlanBreak(
            Scenario.Series, new(new LocalDate(2026, 1, 20), new LocalDate(2026, 2, 12), "flood")).Value();

        Assert.Equal([SlotState.Missed, SlotState.Overdue, SlotState.Excused, SlotState.Excused, SlotState.Open],
            await States(new(2026, 1, 22)));

        _service.Clock.StandAt(Instant.FromUtc(2026, 2, 8, 12, 0));
        await _client.Series.CancelBreak(Scenario.Series, pause.Id);

        Assert.Equal([SlotState.Missed, SlotState.Missed, SlotState.Excused, SlotState.Open, SlotState.Open],
            await States(new(2026, 1, 22)));
    }

    [Fact]
    public async Task Moving_a_slot_in_time_moves_what_is_due_and_the_tag_of_its_release()
    {
        var release = await _client.GivenARelease(slot: new LocalDate(2026, 2, 12));
        var before = await _client.Releases.Get(release.Id);

        var moved = await _client.Series.ChangeSlot(
            Scenario.Series, new(2026, 2, 12), new(MoveTo: new LocalDateTime(2026, 2, 14, 9, 0))).Value();
        var after = await _client.Releases.Get(release.Id);
        var occupied = await _client.Series.ChangeSlot(
            Scenario.Series, new(2026, 2, 12), new(MoveTo: new LocalDateTime(2026, 2, 19, 9, 0))).Problem();

        Assert.Equal(
            (Instant.FromUtc(2026, 2, 14, 9, 0), Instant.FromUtc(2026, 2, 14, 9, 0)), (moved.At, moved.PromisedAt));
        Assert.Equal(moved.At, after.Content!["outline"].DueAt);
        Assert.NotEqual(before.ETag(), after.ETag());
        Assert.Equal((409, "slot.occupied"), (occupied.Status, occupied.Code));
    }

    [Fact]
    public async Task After_its_time_a_slot_stays_what_it_was_whatever_is_decided()
    {
        _service.Clock.StandAt(Instant.FromUtc(2026, 2, 6, 12, 0));

        var givenUp = await _client.Series.ChangeSlot(Scenario.Series, new(2026, 1, 22), new(GiveUp: true)).Value();
        var moved = await _client.Series.ChangeSlot(
            Scenario.Series, new(2026, 2, 5), new(MoveTo: new LocalDateTime(2026, 2, 10, 7, 0))).Value();
        var inTime = await _client.Series.ChangeSlot(
            Scenario.Series, new(2026, 2, 12), new(GiveUp: true, Reason: "ill")).Value();

        Assert.Equal(SlotState.Missed, givenUp.State);
        Assert.Equal(
            (Instant.FromUtc(2026, 2, 10, 7, 0), Instant.FromUtc(2026, 2, 5, 7, 0)), (moved.At, moved.PromisedAt));
        Assert.Equal(SlotState.Overdue, moved.State);
        Assert.Equal((SlotState.Excused, "ill"), (inTime.State, inTime.Reason));
    }

    [Fact]
    public async Task A_held_slot_is_late_however_late_its_release_comes()
    {
        var release = await _client.GivenARelease(slot: new LocalDate(2026, 2, 5));
        var states = new List<SlotState> { release.Slot!.State };

        foreach (var (day, hour) in new[] { (5, 8), (6, 6), (7, 8), (12, 8) })
        {
            _service.Clock.StandAt(Instant.FromUtc(2026, 2, day, hour, 0));
            states.Add((await _client.Releases.Get(release.Id).Value()).Slot!.State);
        }

        var late = await _client.Record(release, "publish", StageState.Completed);

        Assert.Equal(
            [SlotState.Held, SlotState.Pending, SlotState.Pending, SlotState.Overdue, SlotState.Missed], states);
        Assert.Equal(SlotState.Late, late.Slot!.State);
    }

    [Fact]
    public async Task A_slot_is_given_once_however_many_ask_for_it()
    {
        var answers = await Task.WhenAll(Enumerable.Range(0, 20).Select(i =>
            _client.Releases.Plan(new(Scenario.Series, $"No. {i}", new LocalDate(2026, 2, 26)))));

        Assert.Single(answers, answer => answer.StatusCode == HttpStatusCode.Created);
        Assert.Equal(19, answers.Count(answer => answer.StatusCode == HttpStatusCode.Conflict));
    }

    [Fact]
    public async Task A_closed_series_keeps_its_past_and_promises_nothing_more()
    {
        var release = await _client.GivenARelease(slot: new LocalDate(2026, 2, 12));

        var closed = await _client.Series.Close(Scenario.Series).Value();
        var again = await _client.Series.Close(Scenario.Series).Value();

        Assert.Equal(release.Id, Assert.Single(closed.Unassigned).Id);
        Assert.Equal(closed.Series.ClosedAt, again.Series.ClosedAt);
        Assert.Equal([SlotState.Missed, SlotState.Overdue], await States(new(2026, 1, 22)));
    }

    private async Task<IEnumerable<SlotState>> States(LocalDate from) =>
        (await _client.Series.Slots(Scenario.Series, from, new LocalDate(2026, 2, 20)).Value()).Items.Select(
            slot => slot.State);
}
