using Releasekit.Client;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Reminders;

/// <summary>Reminders as they stand in the log, raised by the service itself.</summary>
public class ReminderTests(Service service)
{
    private static readonly Instant Monday = Instant.FromUtc(2026, 3, 2, 9, 0);

    [Fact]
    public async Task A_reminder_is_raised_once_and_says_enough_to_be_understood_alone()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Monday);
        var publisher = await own.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease("Eelgrass");

        own.Clock.StandAt(Instant.FromUtc(2026, 3, 4, 18, 0));
        await own.Remind();
        await own.Remind();
        var told = await publisher.Client.Events.List(type: "stage.overdue").Value();

        var data = told.Items.Single(one =>
            one.Data.GetProperty("stage").GetProperty("key").GetString() == "outline").Data;
        Assert.Equal(release.Id, data.GetProperty("release").GetProperty("id").GetGuid());
        Assert.Equal("Eelgrass", data.GetProperty("release").GetProperty("title").GetString());
        Assert.Equal("Outline", data.GetProperty("stage").GetProperty("name").GetString());
        Assert.Equal("2026-03-05", data.GetProperty("slot").GetString());
        Assert.Equal("2026-03-05T07:00:00Z", data.GetProperty("slotAt").GetString());
        Assert.Equal("2026-03-04T17:00:00Z", data.GetProperty("dueAt").GetString());
        Assert.True(data.GetProperty("late").GetBoolean());
        Assert.Equal(told.Items.Count, told.Items.Select(one => one.Id).Distinct().Count());
        Assert.Equal(3, told.Items.Count);
    }

    [Fact]
    public async Task What_was_done_while_the_service_was_away_is_not_spoken_of()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Monday);
        var publisher = await own.NewPublisher();
        var done = await publisher.Client.Tasks.Create(new TaskValues("Invoice", "2026-03-03")).Value();
        await publisher.Client.Tasks.Create(new TaskValues("Boots", "2026-03-03")).Value();

        own.Clock.StandAt(Instant.FromUtc(2026, 3, 5, 12, 0));
        await publisher.Client.Tasks.Complete(done.Id, new()).Value();
        await own.Remind();
        var told = await publisher.Client.Events.List(type: "task.due").Value();

        var only = Assert.Single(told.Items);
        Assert.Equal("Boots", only.Data.GetProperty("title").GetString());
        Assert.Equal("2026-03-03T08:00:00Z", only.Data.GetProperty("occurredAt").GetString());
        Assert.True(only.Data.GetProperty("late").GetBoolean());
    }

    [Fact]
    public async Task Lead_times_are_the_publishers()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Monday);
        var publisher = await own.NewPublisher();
        var before = await publisher.Client.Publishers.Get();
        await publisher.Client.Publishers.Change(
            new(Reminders: new(RemindAt: new LocalTime(21, 30), TaskDays: 2)), before.Headers!.ETag!.Tag).Value();
        await publisher.Client.Tasks.Create(new TaskValues("Invoice", "2026-03-06")).Value();

        own.Clock.StandAt(Instant.FromUtc(2026, 3, 4, 21, 29));
        await own.Remind();
        var early = await publisher.Client.Events.List(type: "task.due").Value();
        own.Clock.StandAt(Instant.FromUtc(2026, 3, 4, 21, 30));
        await own.Remind();
        var due = await publisher.Client.Events.List(type: "task.due").Value();

        Assert.Empty(early.Items);
        Assert.False(Assert.Single(due.Items).Data.GetProperty("late").GetBoolean());
    }

    [Fact]
    public async Task Settings_that_make_no_sense_are_refused_by_name_and_nothing_changes()
    {
        var publisher = await service.NewPublisher();
        var before = await publisher.Client.Publishers.Get();

        var problem = await publisher.Client.Publishers.Change(
            new(Reminders: new(Duration.FromDays(31), null, -1, 61)), before.Headers!.ETag!.Tag).Problem();
        var after = await publisher.Client.Publishers.Get().Value();

        Assert.Equal(
            ["/reminders/dueSoon", "/reminders/importantTaskDays", "/reminders/taskDays"],
            problem.Errors!.Select(error => error.Place).Order());
        Assert.Equal(new(Duration.FromDays(1), new LocalTime(8, 0), 0, 3), after.Reminders);
    }

    [Fact]
    public async Task Nobody_is_reminded_of_a_history_that_is_imported()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        await publisher.Client.GivenARelease("Long ago", new LocalDate(2026, 3, 5));

        await service.Remind();
        var told = await publisher.Client.Events.List(type: "stage.*").Value();
        var slots = await publisher.Client.Events.List(type: "slot.missed").Value();

        Assert.Empty(told.Items);
        Assert.Empty(slots.Items);
    }

    [Fact]
    public async Task Two_who_raise_at_the_same_moment_raise_each_once()
    {
        await using var own = await service.StartAnother();
        await using var other = await service.StartAnother(own.Database);
        own.Clock.StandAt(Monday);
        var publisher = await own.NewPublisher();

        foreach (var i in Enumerable.Range(0, 20))
        {
            await publisher.Client.Tasks.Create(new TaskValues($"Task {i}", "2026-03-03")).Value();
        }

        own.Clock.StandAt(Instant.FromUtc(2026, 3, 3, 8, 0));
        other.Clock.StandAt(Instant.FromUtc(2026, 3, 3, 8, 0));
        await Task.WhenAll(Enumerable.Range(0, 8).Select(i => i % 2 == 0 ? own.Remind() : other.Remind()));
        var told = await publisher.Client.Events.List(limit: 200, type: "task.due").Value();

        Assert.Equal(20, told.Items.Count);
        Assert.Equal(20, told.Items.Select(one => one.Data.GetProperty("title").GetString()).Distinct().Count());
    }
}
