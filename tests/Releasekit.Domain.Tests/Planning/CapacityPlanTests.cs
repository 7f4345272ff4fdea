using System.Text.Json;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Tests.Planning.Sequencing;
using static Releasekit.Domain.Tests.Planning.Episodes;

namespace Releasekit.Domain.Tests.Planning;

public sealed class CapacityPlanTests
{
    private static readonly LocalDate Monday = new(2024, 5, 6);
    private static readonly CapacityQuestion AsItIs = new();

    /// <summary>Own case: the optimum is two hours late; plain due dates would edit before recording.</summary>
    [Fact]
    public void The_case_of_the_checks_is_two_hours_late_in_its_order()
    {
        var check = PieceCases.Find("j.capacity_time");
        var calendar = CalendarOf(check);
        var expected = check.Expected.GetProperty("finish");

        var plan = CapacityPlan.TryLay(WorkOf(check), calendar, Midnight(0), AsItIs, out _)!;

        Assert.Equal(check.Expected.Strings("order"), plan.Work.Select(laid => laid.Work.Key));
        Assert.All(plan.Work, laid =>
        {
            var row = expected.GetProperty(laid.Work.Key);
            Assert.Equal(row.Long("work_clock"), HoursBetween(calendar, Midnight(0), laid.FinishesAt!.Value));
            Assert.Equal(Monday.PlusDays((int)row.Long("day")), laid.FinishesAt.Value.InUtc().Date);
            Assert.Equal(Duration.FromHours(row.Number("late_hours")), laid.Shortfall);
        });
        Assert.Equal(check.Expected.GetProperty("fits").GetBoolean(), plan.Fits);
        Assert.Equal(Duration.FromHours(check.Expected.Number("Lmax_hours")), plan.Shortfall);
        Assert.Equal(Monday.PlusDays(8), plan.FirstOverflowOn);
        Assert.Equal([true, false], plan.Outlooks.Select(outlook => outlook.IsMet));
        Assert.Equal(["E7", "E8"], plan.Remedies);
    }

    [Fact]
    public void The_work_clock_and_the_dues_of_the_case_are_the_expected_ones()
    {
        var check = PieceCases.Find("j.capacity_time");
        var calendar = CalendarOf(check);
        var pieces = WorkOf(check).Select(work => new Piece(
            work.Key, (long)work.Effort!.Value.TotalHours, HoursBetween(calendar, Midnight(0), work.DueAt!.Value))
        {
            After = work.After,
        }).ToArray();

        var sums = check.Expected.Longs("cumulative_hours");
        Assert.Equal(
            sums, sums.Select((_, day) => HoursBetween(calendar, Midnight(0), Midnight(day))));
        Assert.Equal(Map(check.Expected.GetProperty("due_on_work_clock")), pieces.ToDictionary(p => p.Key, p => p.Due));
        Assert.Equal(Map(check.Expected.GetProperty("modified_due")), EarliestDueDate.TryModify(pieces, out _));
        Assert.Equal(check.Expected.Strings("plain_edd_order"), ByDueDay(check));
    }

    [Fact]
    public void Leaving_a_release_out_makes_the_rest_fit()
    {
        var check = PieceCases.Find("j.capacity_time");

        var plan = CapacityPlan.TryLay(WorkOf(check), CalendarOf(check), Midnight(0), new("E7"), out _)!;

        Assert.True(plan.Fits);
        Assert.Null(plan.FirstOverflowOn);
        Assert.Empty(plan.Remedies);
        Assert.Equal(["E8"], plan.Outlooks.Select(outlook => outlook.Owner));
    }

    [Theory]
    [InlineData(6, 16 - 7)]
    [InlineData(12, 2)]
    [InlineData(14, 0)]
    [InlineData(0, 16)]
    public void Other_hours_a_week_are_spread_like_the_working_week(double hours, double missing)
    {
        var check = PieceCases.Find("j.capacity_time");

        var plan = CapacityPlan.TryLay(
            WorkOf(check), CalendarOf(check), Midnight(0), new(HoursAWeek: Duration.FromHours(hours)), out _)!;

        Assert.Equal(Duration.FromHours(missing), plan.Shortfall);
    }

    [Fact]
    public void Stages_of_releases_and_tasks_share_the_hours()
    {
        var release = Planned(Plan);
        var work = OpenWork.Of(release, Slot).Append(
            OpenWork.Task("tax", Duration.FromHours(8), Instant.FromUtc(2024, 5, 7, 17, 0))).ToArray();

        var plan = CapacityPlan.TryLay(work, Office, Monday9, AsItIs, out _)!;

        // 17 hours of making and 8 of tax do not go into the 24 before the slot.
        Assert.Equal(Duration.FromHours(1), plan.Shortfall);
        Assert.Equal(new LocalDate(2024, 5, 9), plan.FirstOverflowOn);
        Assert.Equal(["tax", release.Id.ToString()], plan.Outlooks.Select(outlook => outlook.Owner));
        Assert.Equal([true, false], plan.Outlooks.Select(outlook => outlook.IsMet));
        Assert.Equal([false, true], plan.Outlooks.Select(outlook => outlook.EffortUnknown));
        Assert.Equal([release.Id.ToString()], plan.Remedies);
    }

    [Fact]
    public void Follow_ups_wait_for_the_publication()
    {
        var plan = CapacityPlan.TryLay(OpenWork.Of(Planned(Plan), Slot), Office, Monday9, AsItIs, out _)!;

        Assert.True(plan.Fits);
        Assert.Equal(Instant.FromUtc(2024, 5, 9, 9, 0), plan.Work.Single(laid => laid.Work.Key == "announce").StartsAt);
        Assert.Equal(Instant.FromUtc(2024, 5, 8, 10, 0), plan.Outlooks.Single().ReadyAt);
    }

    [Fact]
    public void What_is_overdue_is_short_by_the_hours_it_needs()
    {
        var late = OpenWork.Task("tax", Duration.FromHours(3), Monday9 - Duration.FromDays(30));

        var plan = CapacityPlan.TryLay([late], Office, Monday9, AsItIs, out _)!;

        Assert.Equal(Duration.FromHours(3), plan.Shortfall);
        Assert.Equal(Monday, plan.FirstOverflowOn);
    }

    [Fact]
    public void Without_working_time_nothing_with_effort_is_ever_finished()
    {
        var plan = CapacityPlan.TryLay(
            OpenWork.Of(Planned(Plan), Slot), new([], [], [], DateTimeZone.Utc), Monday9, AsItIs, out _)!;

        Assert.False(plan.Fits);
        Assert.All(plan.Work, laid => Assert.Null(laid.FinishesAt));
        Assert.Null(plan.Outlooks.Single().ReadyAt);
    }

    [Fact]
    public void Nothing_to_do_fits()
    {
        var plan = CapacityPlan.TryLay([], Office, Monday9, AsItIs, out var fault)!;

        Assert.Null(fault);
        Assert.True(plan.Fits);
        Assert.Empty(plan.Work);
    }

    [Fact]
    public void A_circle_is_refused()
    {
        OpenWork[] circle =
        [
            new(WorkKind.Making, "E7", "a", null, Slot, ["b"]), new(WorkKind.Making, "E7", "b", null, Slot, ["a"]),
        ];

        Assert.Null(CapacityPlan.TryLay(circle, Office, Monday9, AsItIs, out var fault));
        Assert.Contains("in a circle", fault!, StringComparison.Ordinal);
    }

    private static WorkingCalendar CalendarOf(CheckCase check) => new(
        check.Inputs.Longs("hours_per_day").Take(7)
            .Select((hours, day) => new WorkingHours((IsoDayOfWeek)(day + 1), new(9, 0), new(9 + (int)hours, 0)))
            .Where(hours => hours.From < hours.To),
        [], [], DateTimeZone.Utc);

    private static OpenWork[] WorkOf(CheckCase check)
    {
        var links = check.Inputs.GetProperty("precedence").EnumerateArray().ToLookup(
            link => link[1].GetString(), link => link[0].GetString()!);

        return
        [
            .. check.Inputs.GetProperty("jobs").EnumerateObject().Select(job => new OpenWork(
                WorkKind.Making, job.Name[..2], job.Name, Duration.FromHours(job.Value.Number("hours")),
                Midnight(1 + (int)job.Value.Long("due_day")), [.. links[job.Name]])),
        ];
    }

    private static IEnumerable<string> ByDueDay(CheckCase check) => EarliestDueDate.Order(
        check.Inputs.GetProperty("jobs").EnumerateObject().Select(
            job => new Piece(job.Name, job.Value.Long("hours"), job.Value.Long("due_day"))))
        .Order.Select(piece => piece.Key);

    private static long HoursBetween(WorkingCalendar calendar, Instant from, Instant to) =>
        (long)calendar.Between(from, to)!.Value.TotalHours;

    private static Instant Midnight(int day) => Monday.PlusDays(day).AtMidnight().InUtc().ToInstant();

    private static Dictionary<string, long> Map(JsonElement element) =>
        element.EnumerateObject().ToDictionary(entry => entry.Name, entry => entry.Value.GetInt64());
}
