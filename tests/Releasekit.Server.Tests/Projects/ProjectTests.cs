using System.Net;
using Releasekit.Client;
using Releasekit.Client.Projects;

namespace Releasekit.Server.Tests.Projects;

/// <summary>A project from its proposal to its end, in Lisbon, the clock standing at 2 March 2026 first.</summary>
public sealed class ProjectTests(Service shared) : IAsyncLifetime
{
    private static readonly LocalDate FinishBy = new(2026, 4, 30);
    private Service _service = null!;
    private TestPublisher _publisher = null!;

    private IProjects Projects => _publisher.Client.Projects;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 2, 9, 0));
        _publisher = await _service.NewPublisher();
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task A_candidate_is_planned_and_started()
    {
        var proposed = await Projects.Propose(new("Estuary sound atlas", 3, "ask the pilots")).Value();
        await Projects.PlanStep(proposed.Id, new("North shore", new LocalDate(2026, 3, 20)));
        var steps = await Projects.PlanStep(proposed.Id, new("Print it", new LocalDate(2026, 5, 9)));
        var started = await Projects.Start(proposed.Id, new("Forty places on one map", FinishBy)).Value();

        Assert.Equal((HttpStatusCode.Created, $"/v1/projects/{proposed.Id}/steps/s2"), (
            steps.StatusCode, steps.Headers!.Location!.OriginalString));
        Assert.Equal((ProjectState.Candidate, 3, null), (proposed.State, proposed.Rank, proposed.Progress));
        Assert.Equal([false, true], started.Steps.Select(step => step.AfterFinishBy));
        Assert.Equal("0 of 2 steps done with 0 % of the time used", started.Progress!.Standing);
    }

    [Fact]
    public async Task Progress_tells_the_steps_done_against_the_time_used()
    {
        var project = await GivenStarted();
        await Projects.PlanStep(project.Id, new("North shore"));
        await Projects.PlanStep(project.Id, new("South shore"));

        // 30 of the 60 days from 2 March to the end of 30 April, less the hours before the start and the hour that
        // summer time takes on 29 March (tz database).
        _service.Clock.StandAt(Instant.FromUtc(2026, 4, 1, 18, 0));
        var tag = (await Projects.Get(project.Id)).ETag();
        var ticked = await Projects.ChangeStep(project.Id, "s1", new() { ["done"] = true }, tag).Value();

        Assert.Equal((1, 0.5, false), (ticked.Progress!.StepsDone, ticked.Progress.Share, ticked.Progress.Overdue));
        Assert.Equal(Instant.FromUtc(2026, 3, 31, 23, 0), ticked.Progress.CountedAt);
        Assert.Equal(((30 * 24) - 9 - 1) / ((60 * 24) - 9.0 - 1), ticked.Progress.TimeUsed, 12);
        Assert.Equal("1 of 2 steps done with 50 % of the time used", ticked.Progress.Standing);

        _service.Clock.StandAt(Instant.FromUtc(2026, 4, 30, 23, 0));
        var overdue = await Projects.Get(project.Id).Value();

        Assert.Equal((true, 1), (overdue.Progress!.Overdue, overdue.Progress.TimeUsed));
    }

    [Fact]
    public async Task A_finish_is_told_late_and_taken_back_and_the_history_keeps_both()
    {
        var project = await GivenStarted();
        await Projects.PlanStep(project.Id, new("Print it"));
        _service.Clock.StandAt(Instant.FromUtc(2026, 4, 30, 23, 0));
        var at = Instant.FromUtc(2026, 4, 30, 20, 0);
        var finished = await Projects.Finish(project.Id, new(at, "39 places")).Value();

        Assert.Equal((ProjectState.Finished, at, "39 places", false), (
            finished.State, finished.FinishedAt, finished.Outcome, finished.Progress!.Overdue));
        Assert.False(Assert.Single(finished.Steps).Done);

        var reopened = await Projects.Reopen(project.Id).Value();
        var history = await Projects.History(project.Id).Value();

        Assert.Equal((ProjectState.Started, null), (reopened.State, reopened.FinishedAt));
        Assert.Equal(
            ["ProjectProposed", "ProjectStarted", "StepPlanned", "ProjectFinished", "ProjectReopened"],
            history.Items.Select(entry => entry.Event));
        Assert.Equal((at, _service.Clock.Now), (history.Items[3].OccurredAt, history.Items[3].RecordedAt));
        Assert.Equal("39 places", history.Items[3].Details["outcome"].GetString());
    }

    [Fact]
    public async Task Every_move_of_the_date_is_kept_and_the_first_promise_stays()
    {
        var project = await GivenStarted();
        var tag = (await Projects.Get(project.Id)).ETag();

        var moved = await Projects.Change(
            project.Id,
            new() { ["finishBy"] = "2026-05-31", ["finishByReason"] = "the boat is hired out", ["rank"] = 1 }, tag);
        var past = await Projects.Change(project.Id, new() { ["finishBy"] = "2026-03-01" }, moved.ETag()).Problem();
        var none = await Projects.Change(project.Id, new() { ["finishBy"] = null }, moved.ETag()).Problem();
        var alone = await Projects.Change(project.Id, new() { ["finishByReason"] = "no" }, moved.ETag()).Problem();
        var repeated = await Projects.Change(
            project.Id, new() { ["finishBy"] = "2026-05-31", ["finishByReason"] = "the boat is hired out" },
            moved.ETag());

        Assert.Equal((new LocalDate(2026, 5, 31), FinishBy, 1), (
            moved.Content!.FinishBy, moved.Content.PromisedBy, moved.Content.Rank));
        Assert.Equal(
            new FinishByMove(FinishBy, new(2026, 5, 31), _service.Clock.Now, "the boat is hired out"),
            Assert.Single(moved.Content.Moves));
        Assert.Equal(
            [(422, "project.finish_by_invalid"), (422, "project.finish_by_invalid"), (422, "project.reason_alone")],
            new[] { past, none, alone }.Select(problem => (problem.Status, problem.Code)));
        Assert.Equal(moved.ETag(), repeated.ETag());
    }

    [Fact]
    public async Task A_refused_member_leaves_the_others_unchanged()
    {
        var candidate = await Projects.Propose(new("Night walk")).Value();
        var tag = (await Projects.Get(candidate.Id)).ETag();

        var problem = await Projects.Change(candidate.Id, new() { ["title"] = "Dawn walk", ["goal"] = "x" }, tag)
            .Problem();

        Assert.Equal((409, "project.not_started"), (problem.Status, problem.Code));
        Assert.Equal("Night walk", (await Projects.Get(candidate.Id).Value()).Title);
    }

    /// <summary>RFC 9110, 13.1.1; RFC 6585, 3.</summary>
    [Fact]
    public async Task Changes_name_the_version_they_were_made_for_and_readings_of_a_day_are_one_version()
    {
        var project = await GivenStarted();
        await Projects.PlanStep(project.Id, new("North shore"));
        var read = await Projects.Get(project.Id);
        _service.Clock.StandAt(_service.Clock.Now + Duration.FromHours(10));
        var unchanged = await Projects.Get(project.Id, ifNoneMatch: read.ETag());

        Assert.Equal(HttpStatusCode.NotModified, unchanged.StatusCode);

        foreach (var (tag, status) in new[] { (null, 428), ("\"stale\"", 412), (read.ETag(), 200), (read.ETag(), 412) })
        {
            var answer = await Projects.ChangeStep(project.Id, "s1", new() { ["what"] = $"Shore {status}" }, tag);
            Assert.Equal(status, (int)answer.StatusCode!);
        }

        var removed = await Projects.RemoveStep(project.Id, "s1", (await Projects.Get(project.Id)).ETag()).Value();
        var again = await Projects.RemoveStep(project.Id, "s1", "*").Problem();
        var changed = await Projects.ChangeStep(project.Id, "s1", new() { ["done"] = true }, "*").Problem();

        Assert.Empty(removed.Steps);
        Assert.Equal(
            [(404, "step.unknown"), (404, "step.unknown")], new[] { again, changed }.Select(p => (p.Status, p.Code)));
    }

    [Fact]
    public async Task A_project_that_is_short_is_a_task_unless_meant()
    {
        var project = await Projects.Propose(new("Night walk")).Value();

        var problem = await Projects.Start(project.Id, new("Heard by ten", new(2026, 3, 29))).Problem();
        var meant = await Projects.Start(project.Id, new("Heard by ten", new(2026, 3, 29), Anyway: true)).Value();

        Assert.Equal((422, "project.too_short", "/finishBy"), (
            problem.Status, problem.Code, Assert.Single(problem.Errors!).Place));
        Assert.Contains("2026-03-30", problem.Detail, StringComparison.Ordinal);
        Assert.Equal(ProjectState.Started, meant.State);
    }

    [Fact]
    public async Task A_dropped_project_takes_nothing_until_it_is_restored()
    {
        var project = await GivenStarted();

        var bare = await _publisher.Http.PostAsync(
            new Uri($"/v1/projects/{project.Id}/drop", UriKind.Relative), content: null);
        var dropped = await Projects.Drop(project.Id, new("again")).Value();
        var step = await Projects.PlanStep(project.Id, new("More")).Problem();
        var restored = await Projects.Restore(project.Id).Value();

        Assert.Equal(HttpStatusCode.OK, bare.StatusCode);
        Assert.Equal((ProjectState.Dropped, _service.Clock.Now, null), (
            dropped.State, dropped.DroppedAt, dropped.DroppedFor));
        Assert.Equal((409, "project.dropped"), (step.Status, step.Code));
        Assert.Equal((ProjectState.Started, null), (restored.State, restored.DroppedAt));
    }

    [Fact]
    public async Task A_repeated_request_with_its_key_proposes_and_plans_once()
    {
        var first = await Projects.Propose(new("Booklet"), "key-1").Value();
        var again = await Projects.Propose(new("Booklet"), "key-1").Value();
        await Task.WhenAll(Enumerable.Range(0, 10).Select(_ =>
            Projects.PlanStep(first.Id, new("Choose a paper"), "key-2")));

        Assert.Equal(first.Id, again.Id);
        Assert.Single((await Projects.Get(first.Id).Value()).Steps);
    }

    [Fact]
    public async Task Candidates_are_listed_by_rank_page_by_page()
    {
        foreach (var (title, rank) in new[] { ("a", 2), ("b", 3), ("c", 1), ("d", 3), ("e walk", 2) })
        {
            await Projects.Propose(new(title, rank));
        }

        await GivenStarted();
        var titles = new List<string>();

        for (string? cursor = null; titles.Count == 0 || cursor is not null;)
        {
            var page = await Projects.List(new("candidate", Sort: "rank"), limit: 2, cursor: cursor).Value();
            titles.AddRange(page.Items.Select(project => project.Title));
            cursor = page.Next;
        }

        Assert.Equal(["b", "d", "a", "e walk", "c"], titles);
        Assert.Equal(["b", "d"], await Titles(new(Rank: 3)));
        Assert.Equal(["e walk"], await Titles(new(Text: "WALK")));
        Assert.Equal(["Estuary sound atlas"], await Titles(new("started")));

        foreach (var wrong in new ProjectFilter[] { new("begun"), new(Rank: 4), new(Sort: "title") })
        {
            Assert.Equal("query-invalid", (await Projects.List(wrong).Problem()).Code);
        }

        async Task<IEnumerable<string>> Titles(ProjectFilter filter) =>
            (await Projects.List(filter).Value()).Items.Select(project => project.Title);
    }

    private async Task<Project> GivenStarted()
    {
        var project = await Projects.Propose(new("Estuary sound atlas")).Value();
        return await Projects.Start(project.Id, new("Forty places on one map", FinishBy)).Value();
    }
}
