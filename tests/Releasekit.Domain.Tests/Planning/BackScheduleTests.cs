using Releasekit.Domain.Planning;
using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Planning.Episodes;

namespace Releasekit.Domain.Tests.Planning;

public sealed class BackScheduleTests
{
    private static readonly WorkingCalendar Never = new([], [], [], DateTimeZone.Utc);

    [Fact]
    public void Every_stage_is_counted_back_from_the_slot_and_forward_from_now()
    {
        var schedule = BackSchedule.Of(Planned(Plan), Slot, Office, Monday9);

        Assert.Equal(
            [
                ("outline", At(6, 9), At(6, 11), At(7, 11), At(7, 13), Hours(10), Hours(0), true),
                ("cut", At(6, 11), At(6, 15), At(7, 13), At(7, 17), Hours(10), Hours(0), true),
                ("mix", At(6, 15), At(7, 15), At(8, 9), At(8, 17), Hours(10), Hours(0), true),
                ("notes", At(6, 11), At(6, 14), At(8, 14), At(8, 17), Hours(19), Hours(9), false),
                ("publish", At(7, 15), At(7, 15), Slot, Slot, Hours(10), Hours(10), true),
                ("announce", At(9, 9), At(9, 10), At(9, 10), At(9, 11), Hours(1), Hours(0), true),
                ("site-page", At(9, 10), At(9, 12), At(9, 15), At(9, 17), Hours(5), Hours(5), false),
            ],
            schedule.Stages.Select(s => (
                s.Key, s.EarliestStart, s.EarliestFinish, s.LatestStart, s.LatestFinish, s.TotalFloat, s.FreeFloat,
                s.IsCritical)));
        Assert.Equal(Slot, schedule.PublicationAt);
        Assert.False(schedule.IsAtRisk);
        Assert.Equal(["publish"], schedule.Stages.Where(s => s.EffortUnknown).Select(s => s.Key));
    }

    [Fact]
    public void A_float_is_the_working_time_between_the_two_starts() => Assert.All(
        BackSchedule.Of(Planned(Plan), Slot, Office, At(7, 14)!.Value).Stages,
        s => Assert.Equal(s.TotalFloat, Office.Between(s.EarliestStart!.Value, s.LatestStart!.Value)));

    [Fact]
    public void A_release_is_at_risk_when_a_latest_start_has_passed()
    {
        Assert.False(BackSchedule.Of(Planned(Plan), Slot, Office, At(7, 11)!.Value).IsAtRisk);

        var schedule = BackSchedule.Of(Planned(Plan), Slot, Office, At(7, 12)!.Value);

        Assert.True(schedule.IsAtRisk);
        Assert.Equal(["outline"], schedule.Stages.Where(s => s.IsAtRisk).Select(s => s.Key));
        Assert.Equal(Hours(-1), schedule.Find("mix")!.TotalFloat);
    }

    [Fact]
    public void A_started_stage_is_not_at_risk_and_keeps_its_whole_effort()
    {
        var schedule = BackSchedule.Of(Planned(Plan, Started("outline")), Slot, Office, At(7, 12)!.Value);

        Assert.False(schedule.IsAtRisk);
        Assert.True(schedule.Find("outline")!.IsStarted);
        Assert.Equal(Hours(2), schedule.Find("outline")!.Effort);
    }

    [Fact]
    public void A_stage_blocked_in_the_middle_counts_as_started()
    {
        var blocked = new StageBlocked("outline", "storm", Monday9, Monday9);

        bool IsStarted(params ReleaseEvent[] then) =>
            BackSchedule.Of(Planned(Plan, then), Slot, Office, Monday9).Find("outline")!.IsStarted;

        Assert.True(IsStarted(Started("outline"), blocked));
        Assert.False(IsStarted(blocked));
    }

    [Fact]
    public void Done_stages_are_left_out()
    {
        var schedule = BackSchedule.Of(Planned(Plan, Done("outline"), Done("cut")), Slot, Office, At(8, 9)!.Value);

        Assert.Null(schedule.Find("cut"));
        Assert.Equal(At(8, 9), schedule.Find("mix")!.EarliestStart);
        Assert.Equal(Duration.Zero, schedule.Find("mix")!.TotalFloat);
        Assert.False(schedule.IsAtRisk);
    }

    [Fact]
    public void What_cannot_be_done_by_the_slot_is_published_when_it_is_done_and_follow_ups_begin_then()
    {
        var schedule = BackSchedule.Of(Planned(Plan), Slot, Office, At(8, 9)!.Value);

        Assert.Equal(At(9, 15), schedule.PublicationAt);
        Assert.Equal(At(9, 15), schedule.Find("announce")!.EarliestStart);
        Assert.Equal(At(9, 11), schedule.Find("announce")!.LatestFinish);
        Assert.Equal(Hours(-6), schedule.Find("publish")!.TotalFloat);
    }

    [Fact]
    public void Once_published_only_follow_ups_are_left_and_counted_from_the_publication()
    {
        var published = At(8, 12)!.Value;

        var schedule = BackSchedule.Of(Planned(Plan, Done("mix"), Done("publish", published)), Slot, Office, published);

        Assert.Equal(["announce", "site-page"], schedule.Stages.Select(s => s.Key));
        Assert.Equal(published, schedule.Find("announce")!.EarliestStart);
        Assert.Equal(At(8, 16), schedule.Find("announce")!.LatestFinish);
        Assert.Equal(At(9, 12), schedule.Find("site-page")!.LatestFinish);
        Assert.False(BackSchedule
            .Of(Planned(Plan, Done("publish", published)), Slot, Office, At(20, 9)!.Value).IsAtRisk);
    }

    [Fact]
    public void Without_a_slot_there_are_no_latest_times_and_no_risk()
    {
        var schedule = BackSchedule.Of(Planned(Plan), null, Office, Monday9);

        Assert.All(schedule.Stages, s => Assert.Null(s.LatestStart ?? s.LatestFinish));
        Assert.All(schedule.Stages, s => Assert.Null(s.TotalFloat));
        Assert.Equal(At(7, 15), schedule.PublicationAt);
        Assert.Equal(At(7, 15), schedule.Find("announce")!.EarliestStart);
        Assert.False(schedule.IsAtRisk);
    }

    [Fact]
    public void A_follow_up_nobody_set_a_time_for_has_no_latest_times()
    {
        var plan = new[] { Stage("publish", null) with { Publication = true }, Stage("announce", 1, "publish") };

        var announce = BackSchedule.Of(Planned(plan), Slot, Office, Monday9).Find("announce")!;

        Assert.Null(announce.LatestStart);
        Assert.Equal(At(9, 9), announce.EarliestStart);
        Assert.False(announce.IsAtRisk);
    }

    [Fact]
    public void A_publication_with_effort_is_worked_on_before_the_slot()
    {
        var plan = new[] { Stage("publish", 1) with { Publication = true } };

        var publish = BackSchedule.Of(Planned(plan), Slot, Office, Monday9).Find("publish")!;

        Assert.Equal((At(8, 16), At(8, 17)), (publish.LatestStart, publish.LatestFinish));
    }

    [Fact]
    public void Without_working_time_the_work_is_at_risk_and_never_done()
    {
        var schedule = BackSchedule.Of(Planned(Plan), Slot, Never, Monday9);

        Assert.True(schedule.IsAtRisk);
        Assert.Null(schedule.PublicationAt);
        Assert.All(schedule.Stages.Where(s => s.Key != "publish"), s => Assert.Null(s.EarliestStart));
    }

    [Fact]
    public void A_dropped_release_has_nothing_left()
    {
        var dropped = Planned(Plan, new ReleaseDropped("guest ill", Monday9, Monday9));
        var schedule = BackSchedule.Of(dropped, Slot, Office, Monday9);

        Assert.Empty(schedule.Stages);
        Assert.Null(schedule.PublicationAt);
    }

    private static Instant? At(int day, int hour) => Instant.FromUtc(2024, 5, day, hour, 0);

    private static Duration? Hours(double hours) => Duration.FromHours(hours);
}
