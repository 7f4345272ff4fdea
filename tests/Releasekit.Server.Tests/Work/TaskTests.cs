using Releasekit.Client;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Work;

/// <summary>Tasks; the clock stands at Monday 2 March 2026, nine in Lisbon, unless it is turned.</summary>
public sealed class TaskTests(Service shared) : IAsyncLifetime
{
    private Service _service = null!;
    private ReleasekitClient _client = null!;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 2, 9, 0));
        _client = (await _service.NewPublisher()).Client;
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task A_title_is_enough_and_means_this_week()
    {
        var task = await _client.Tasks.Create(new("Oil the hinges")).Value();

        Assert.Equal(
            ("2026-W10", new LocalDate(2026, 3, 2), new LocalDate(2026, 3, 8), 0),
            (task.When, task.From, task.To, task.CarriedOver));
    }

    [Fact]
    public async Task What_is_not_done_is_carried_over_counted_and_never_rewritten()
    {
        var task = await _client.Tasks.Create(new("Oil the hinges", "2026-03-04")).Value();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 7, 9, 0));

        var read = await _client.Tasks.Get(task.Id).Value();
        var today = await _client.Tasks.List(new(new LocalDate(2026, 3, 7), new LocalDate(2026, 3, 8))).Value();
        var tomorrow = await _client.Tasks.List(new(new LocalDate(2026, 3, 8), new LocalDate(2026, 3, 9))).Value();
        var done = await _client.Tasks.Complete(task.Id, new()).Value();

        Assert.Equal(("2026-03-04", 3, "2026-03-07"), (read.When, read.CarriedOver, read.StandsIn));
        Assert.Equal([task.Id], today.Items.Select(item => item.Id));
        Assert.Empty(tomorrow.Items);
        Assert.Equal(("2026-03-04", 0, "2026-03-04"), (done.When, done.CarriedOver, done.StandsIn));
        Assert.Empty(
            (await _client.Tasks.List(new(new LocalDate(2026, 3, 7), new LocalDate(2026, 3, 8))).Value()).Items);
    }

    [Fact]
    public async Task Ticking_twice_changes_nothing_and_a_wrong_tick_is_taken_back()
    {
        var task = await _client.Tasks.Create(new("Oil the hinges")).Value();
        var at = Instant.FromUtc(2026, 3, 1, 18, 0);

        var first = await _client.Tasks.Complete(task.Id, new(at)).Value();
        var second = await _client.Tasks.Complete(task.Id, new()).Value();
        var open = await _client.Tasks.Reopen(task.Id).Value();
        var future = await _client.Tasks.Complete(task.Id, new(Instant.FromUtc(2026, 3, 9, 0, 0))).Problem();

        Assert.Equal((at, at, null), (first.CompletedAt, second.CompletedAt, open.CompletedAt));
        Assert.Equal(("occurred.future", 422), (future.Code, future.Status));
    }

    [Fact]
    public async Task A_quarterly_task_stands_a_year_ahead_and_time_brings_the_next()
    {
        var first = await _client.Tasks.Create(new("VAT return", "2026-04", Rrule: "FREQ=MONTHLY;INTERVAL=3")).Value();

        var ahead = await Whens(first.Recurrence);
        _service.Clock.StandAt(Instant.FromUtc(2026, 9, 2, 9, 0));
        await _service.Upkeep();
        await _service.Upkeep();
        var later = await Whens(first.Recurrence);

        Assert.Equal(["2026-04", "2026-07", "2026-10", "2027-01"], ahead);
        Assert.Equal([.. ahead, "2027-04", "2027-07"], later);
    }

    [Fact]
    public async Task Each_task_of_a_recurrence_is_its_own()
    {
        var first = await _client.Tasks.Create(new("Back up", "2026-W10", Rrule: "FREQ=WEEKLY")).Value();
        var all = await Of(first.Recurrence);

        await _client.Tasks.Complete(all[1].Id, new()).Value();
        await _client.Tasks.Change(all[2].Id, new() { ["title"] = "Back up twice" }, await Tag(all[2].Id)).Value();
        await _client.Tasks.Remove(all[3].Id, await Tag(all[3].Id));
        await _service.Upkeep();

        var after = await Of(first.Recurrence);
        Assert.Equal(all.Count - 1, after.Count);
        Assert.Equal([(false, "Back up"), (true, "Back up"), (false, "Back up twice")],
            after.Take(3).Select(task => (task.Done, task.Title)));
        Assert.DoesNotContain("2026-W13", after.Select(task => task.When));
    }

    [Fact]
    public async Task Another_rule_holds_from_its_task_on_and_what_was_before_stays()
    {
        var first = await _client.Tasks.Create(new("Back up", "2026-W10", Rrule: "FREQ=WEEKLY")).Value();
        var all = await Of(first.Recurrence);
        await _client.Tasks.Complete(all[6].Id, new()).Value();
        await _client.Tasks.Change(all[4].Id, new() { ["title"] = "Back up all" }, await Tag(all[4].Id)).Value();

        var changed = await _client.Tasks
            .SetRecurrence(all[4].Id, new("FREQ=WEEKLY;INTERVAL=4"), await Tag(all[4].Id)).Value();
        _service.Clock.StandAt(Instant.FromUtc(2026, 12, 1, 9, 0));
        await _service.Upkeep();

        Assert.Equal(
            ["2026-W10", "2026-W11", "2026-W12", "2026-W13", "2026-W16"],
            (await Of(first.Recurrence)).Select(task => task.When));
        var begun = await Of(changed.Recurrence);
        Assert.Equal(["2026-W14", "2026-W18", "2026-W22"], begun.Take(3).Select(task => task.When));
        Assert.All(begun, task => Assert.Equal("Back up all", task.Title));
        Assert.Equal(all[4].Id, begun[0].Id);
    }

    [Fact]
    public async Task An_ended_recurrence_brings_nothing_more()
    {
        var first = await _client.Tasks.Create(new("Back up", "2026-W10", Rrule: "FREQ=WEEKLY")).Value();
        var all = await Of(first.Recurrence);

        var last = await _client.Tasks.EndRecurrence(all[1].Id, await Tag(all[1].Id)).Value();
        _service.Clock.StandAt(Instant.FromUtc(2027, 12, 1, 9, 0));
        await _service.Upkeep();

        Assert.Null(last.Recurrence);
        Assert.Equal(["2026-W10", "2026-W11"], (await _client.Tasks.List().Value()).Items.Select(task => task.When));
    }

    [Fact]
    public async Task Two_processes_make_each_task_once()
    {
        var first = await _client.Tasks.Create(new("Back up", "2026-W10", Rrule: "FREQ=WEEKLY")).Value();
        await using var other = await shared.StartAnother(_service.Database);
        _service.Clock.StandAt(Instant.FromUtc(2026, 12, 1, 9, 0));
        other.Clock.StandAt(Instant.FromUtc(2026, 12, 1, 9, 0));

        await Task.WhenAll(Enumerable.Range(0, 6).Select(async i =>
        {
            try
            {
                await (i % 2 == 0 ? _service : other).Upkeep();
            }
            catch (JasperFx.ConcurrencyException)
            {
                // The other one made them; the next hour finds nothing to do.
            }
        }));

        var whens = await Whens(first.Recurrence);
        Assert.Equal(whens.Distinct(), whens);
        Assert.Contains("2027-W50", whens);
    }

    [Fact]
    public async Task Periods_rules_and_questions_that_make_no_sense_are_refused()
    {
        var when = await _client.Tasks.Create(new("x", "2026-W54")).Problem();
        var rule = await _client.Tasks.Create(new("x", "2026-W10", Rrule: "FREQ=HOURLY")).Problem();
        var task = await _client.Tasks.Create(new("x")).Value();
        var patched = await _client.Tasks
            .Change(task.Id, new() { ["rrule"] = "FREQ=DAILY" }, await Tag(task.Id)).Problem();
        var window = await _client.Tasks.List(new(new LocalDate(2026, 3, 2), new LocalDate(2026, 3, 1))).Problem();
        var sphere = await _client.Tasks.List(new(Sphere: "mine")).Problem();

        Assert.Equal(
            [("/when", 422), ("/rrule", 422), ("/rrule", 422), ("to", 400), ("sphere", 400)],
            new[] { when, rule, patched, window, sphere }.Select(p => (p.Errors!.Single().Place, p.Status)));
        Assert.Contains($"PUT /v1/tasks/{task.Id}/recurrence", patched.Detail);
        Assert.Single((await _client.Tasks.List().Value()).Items);
    }

    [Fact]
    public async Task Lists_are_in_the_order_of_days_and_filtered()
    {
        var month = await _client.Tasks.Create(new("month", "2026-03", Important: true)).Value();
        var late = await _client.Tasks.Create(new("late", "2026-03-20", Sphere: Sphere.Personal)).Value();
        var early = await _client.Tasks.Create(new("early", "2026-03-10")).Value();
        var week = await _client.Tasks.Create(new("week", "2026-W11")).Value();

        Assert.Equal([month.Id, week.Id, early.Id, late.Id], await Ids(new()));
        Assert.Equal([month.Id], await Ids(new(Important: true)));
        Assert.Equal([late.Id], await Ids(new(Sphere: "personal")));
        Assert.Equal(
            [month.Id, week.Id, early.Id], await Ids(new(new LocalDate(2026, 3, 10), new LocalDate(2026, 3, 11))));
        Assert.Equal([week.Id], await Ids(new(Text: "EE")));
    }

    private async Task<IEnumerable<Guid>> Ids(TaskFilter filter) =>
        (await _client.Tasks.List(filter).Value()).Items.Select(task => task.Id);

    private async Task<IReadOnlyList<PlannedTask>> Of(Guid? recurrence) =>
        (await _client.Tasks.List(new(Recurrence: recurrence), limit: 200).Value()).Items;

    private async Task<string[]> Whens(Guid? recurrence) => [.. (await Of(recurrence)).Select(task => task.When)];

    private async Task<string> Tag(Guid id) => (await _client.Tasks.Get(id)).Headers!.ETag!.Tag;
}
