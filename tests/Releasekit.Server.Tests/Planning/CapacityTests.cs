using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Planning;

/// <summary>
/// Whether the open work of one person fits; the clock stands at Monday 2 March 2026, nine in Lisbon, a week of 40 h.
/// </summary>
public sealed class CapacityTests(Service shared) : IAsyncLifetime
{
    private Service _service = null!;
    private ReleasekitClient _client = null!;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 2, 9, 0));
        _client = (await _service.NewPublisher()).Client;
        await _client.GivenASeries();
        var plan = (await _client.StagePlans.Get("audio")).Headers!.ETag!.Tag;
        await _client.StagePlans.Replace("audio",
            new([
                new("record", "Field recording", Effort: Duration.FromHours(20)),
                new("mix", "Final mix", Effort: Duration.FromHours(12)),
                new("publish", "Publish", Publication: true),
            ], "Audio"), plan).Value();
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task Two_releases_share_the_hours_and_the_first_slot_that_breaks_is_named()
    {
        var first = await _client.GivenARelease("first");
        var second = await _client.GivenARelease("second", new LocalDate(2026, 3, 12));

        var capacity = await _client.Planning.Capacity().Value();

        // By hand: 24 h of work before Thursday 5th, 64 before the 12th; each needs 32, so 8 too few, then none.
        Assert.Equal(
            [(first.Id, false, Hours(8), At(5, 17)), (second.Id, true, Hours(0), At(11, 17))],
            capacity.Releases.Select(r => (r.Release, r.Met, r.Shortfall, r.ReadyAt)));
        Assert.Equal((false, Hours(8), 40.0), (capacity.Fits, capacity.Shortfall, capacity.HoursAWeek));
        Assert.Equal(new LocalDate(2026, 3, 5), capacity.FirstOverflowOn);
        Assert.Equal([first.Id], capacity.Remedies.Select(remedy => remedy.Release));
        Assert.Equal(
            [("record", At(2, 9), At(4, 13)), ("mix", At(4, 13), At(5, 17)), ("publish", At(5, 17), At(5, 17))],
            capacity.Stages.Where(s => s.Release == first.Id).Select(s => (s.Stage, s.StartsAt, s.FinishesAt)));
    }

    [Fact]
    public async Task What_if_leaves_a_release_out_or_takes_other_hours_and_changes_nothing()
    {
        var first = await _client.GivenARelease("first");
        var second = await _client.GivenARelease("second", new LocalDate(2026, 3, 12));

        var without = await _client.Planning.Capacity(without: first.Id).Value();
        var longer = await _client.Planning.Capacity(hours: 54).Value();
        var asItIs = await _client.Planning.Capacity().Value();

        Assert.True(without.Fits);
        Assert.Equal([second.Id], without.Releases.Select(r => r.Release));

        // 54 h a week are 1.35 of 40: the 24 h to the first slot count 32.4, and 32 are needed.
        Assert.True(longer.Fits);
        Assert.False(asItIs.Fits);
    }

    [Fact]
    public async Task Tasks_take_hours_beside_the_stages_and_busy_appointments_take_them_away()
    {
        var release = await _client.GivenARelease("first");
        await _client.Tasks.Create(new("Accounts", "2026-03-02", Effort: Hours(2))).Value();
        await _client.Tasks.Create(new("Garden", "2026-03-03", Client.Work.Sphere.Personal, Effort: Hours(5))).Value();
        await _client.Tasks.Create(new("No guess", "2026-03-03")).Value();
        await _client.Appointments.Create(new("Dentist", new(2026, 3, 4), new LocalTime(8, 0), Hours(3))).Value();
        await _client.Appointments.Create(new("Birthday", new LocalDate(2026, 3, 4))).Value();

        var capacity = await _client.Planning.Capacity().Value();
        var schedule = await _client.Releases.Schedule(release.Id).Value();

        // By hand: 24 h before the slot, 2 to the dentist, 2 to the accounts: 20 for a release of 32.
        var task = Assert.Single(capacity.Tasks);
        Assert.Equal(("Accounts", true, At(2, 9), At(2, 11)), (task.Title, task.Met, task.StartsAt, task.FinishesAt));
        Assert.Equal(Hours(12), capacity.Releases.Single().Shortfall);

        // Twelve hours of mixing count back over eight on Wednesday, of which the dentist has two.
        Assert.Equal(At(3, 11), schedule.Stages.Single(stage => stage.Key == "mix").LatestStart);
    }

    [Fact]
    public async Task A_started_project_takes_hours_by_the_dates_of_its_steps_a_candidate_none()
    {
        var course = await _client.Projects.Propose(new("Course")).Value();
        await _client.Projects.PlanStep(course.Id, new("Script", new LocalDate(2026, 3, 6), Effort: Hours(30))).Value();
        await _client.Projects.PlanStep(course.Id, new("Film", Effort: Hours(20))).Value();
        var before = await _client.Planning.Capacity().Value();

        await _client.Projects.Start(course.Id, new("Ten lessons", new LocalDate(2026, 4, 10))).Value();
        var fits = await _client.Planning.Capacity().Value();
        await _client.GivenARelease("first");
        var full = await _client.Planning.Capacity().Value();

        Assert.Empty(before.Steps);
        Assert.Equal(
            [("s1", true, At(2, 9), At(5, 15)), ("s2", true, At(5, 15), At(10, 11))],
            fits.Steps.Select(step => (step.Step, step.Met, step.StartsAt, step.FinishesAt)));

        // 40 h of the week against 32 for the release and 30 for the script: 22 too few by Friday evening.
        Assert.Equal(Hours(22), full.Shortfall);
        Assert.Equal(new LocalDate(2026, 4, 10), full.Steps[1].DueAt.InUtc().Date);
    }

    [Fact]
    public async Task Nothing_is_owed_for_a_slot_in_a_break()
    {
        var first = await _client.GivenARelease("first");
        var second = await _client.GivenARelease("second", new LocalDate(2026, 3, 12));

        await _client.Series
            .PlanBreak(Scenario.Series, new(new LocalDate(2026, 3, 3), new LocalDate(2026, 3, 8))).Value();
        var capacity = await _client.Planning.Capacity().Value();
        var schedule = await _client.Releases.Schedule(first.Id).Value();

        // The second has the 64 h before the 12th to itself; the first comes after it.
        Assert.True(capacity.Fits);
        Assert.Equal([second.Id], capacity.Releases.Select(release => release.Release));
        Assert.Equal((null, false), (schedule.SlotAt, schedule.AtRisk));
    }

    [Fact]
    public async Task A_task_is_not_laid_before_the_period_it_is_meant_for()
    {
        await _client.Tasks.Create(new("Accounts", "2026-W12", Effort: Hours(8))).Value();

        var task = (await _client.Planning.Capacity().Value()).Tasks.Single();

        Assert.Equal((At(16, 9), At(16, 17), true), (task.StartsAt, task.FinishesAt, task.Met));
    }

    [Fact]
    public async Task A_task_that_was_carried_over_is_to_be_done_in_the_period_it_stands_in()
    {
        await _client.Tasks.Create(new("Accounts", "2026-W09", Effort: Hours(8))).Value();

        var capacity = await _client.Planning.Capacity().Value();

        Assert.True(capacity.Fits);
        Assert.Equal(Instant.FromUtc(2026, 3, 9, 0, 0), capacity.Tasks.Single().DueAt);
    }

    [Fact]
    public async Task A_window_shows_less_and_counts_the_same()
    {
        await _client.GivenARelease("first");
        var second = await _client.GivenARelease("second", new LocalDate(2026, 3, 12));

        var capacity = await _client.Planning.Capacity(new LocalDate(2026, 3, 12), new LocalDate(2026, 3, 13)).Value();

        Assert.Equal([second.Id], capacity.Releases.Select(r => r.Release));
        Assert.All(capacity.Stages, stage => Assert.Equal(second.Id, stage.Release));
        Assert.Equal(Hours(8), capacity.Shortfall);
    }

    [Fact]
    public async Task What_is_done_closed_or_dropped_takes_no_hours()
    {
        var done = await _client.GivenARelease("done");
        var dropped = await _client.GivenARelease("dropped", new LocalDate(2026, 3, 12));
        foreach (var stage in new[] { "record", "mix", "publish" })
        {
            await _client.Record(done, stage, StageState.Completed);
        }

        await _client.Releases.Drop(dropped.Id, new("storm")).Value();

        var capacity = await _client.Planning.Capacity().Value();

        Assert.Equal((true, 0, 0), (capacity.Fits, capacity.Releases.Count, capacity.Stages.Count));
    }

    [Fact]
    public async Task Questions_that_make_no_sense_are_refused()
    {
        var hours = await _client.Planning.Capacity(hours: 169).Problem();
        var window = await _client.Planning
            .Capacity(new LocalDate(2026, 3, 5), new LocalDate(2026, 3, 4)).Problem();
        var without = await _client.Planning.Capacity(without: Guid.NewGuid()).Problem();

        Assert.Equal(["hours", "to", "without"],
            new[] { hours, window, without }.Select(problem => problem.Errors!.Single().Place));
        Assert.All([hours, window, without], problem => Assert.Equal(400, problem.Status));
    }

    private static Instant? At(int day, int hour) => Instant.FromUtc(2026, 3, day, hour, 0);

    private static Duration Hours(double hours) => Duration.FromHours(hours);
}
