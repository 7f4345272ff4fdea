using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Work;

/// <summary>What becomes of a task that is not done in time.</summary>
public sealed class PlannedTaskTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 20, 12, 0);
    private static readonly LocalDate Today = new(2026, 3, 20);
    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];

    [Fact]
    public void An_open_task_is_carried_over_and_keeps_the_week_it_was_planned_for()
    {
        var task = TaskFor("2026-W10");

        Assert.Equal((2, "2026-W12"), (task.CarriedOver(Today), task.StandsIn(Today).ToString()));
        Assert.Equal("2026-W10", task.When.ToString());
        Assert.Equal(Instant.FromUtc(2026, 3, 23, 0, 0), task.DueAt(Today, Lisbon));
    }

    [Fact]
    public void A_done_task_stays_where_it_was()
    {
        var task = TaskFor("2026-W10").Complete(Now, Now, out _)!;

        Assert.Equal((0, "2026-W10"), (task.CarriedOver(Today), task.StandsIn(Today).ToString()));
        Assert.Same(task, task.Complete(Now + Duration.FromMinutes(1), Now, out _));
        Assert.Null(task.Reopen(Now).CompletedAt);
    }

    [Fact]
    public void Nothing_is_done_in_the_future()
    {
        var done = TaskFor("2026-W13").Complete(Now + Duration.FromMinutes(3), Now, out var refusal);

        Assert.Null(done);
        Assert.Equal("occurred.future", refusal?.Code);
    }

    /// <summary>The last Sunday of March has 23 hours: the day still ends at midnight.</summary>
    [Fact]
    public void A_day_ends_at_midnight_however_long_it_is() => Assert.Equal(
        Instant.FromUtc(2026, 3, 29, 23, 0), TaskFor("2026-03-29").DueAt(Today, Lisbon));

    private static PlannedTask TaskFor(string when) =>
        new(Guid.NewGuid(), "Oil the hinges", CalendarPeriod.TryParse(when)!.Value, Now);
}
