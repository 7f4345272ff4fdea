using Releasekit.Domain.Work;
using static Releasekit.Domain.Tests.Work.Atlas;

namespace Releasekit.Domain.Tests.Work;

/// <summary>
/// What may happen to a project as a whole. The rules are ours (shared domain page): no source outside.
/// </summary>
public sealed class ProjectDeciderTests
{
    [Theory]
    [InlineData("two\nlines", 2, null, "title.invalid")]
    [InlineData("Atlas", 0, null, "project.rank_invalid")]
    [InlineData("Atlas", 4, null, "project.rank_invalid")]
    [InlineData("Atlas", 3, "a bell: \a", "note.invalid")]
    [InlineData("Atlas", 3, "two\nlines", null)]
    public void A_proposal_has_a_title_and_a_rank(string title, int rank, string? note, string? code)
    {
        var decision = ProjectDecider.Propose(Id, title, rank, note, Now);

        Assert.Equal(code, decision.Refusal?.Code);
        Assert.Equal(
            code is null ? [new ProjectProposed(Id, title, rank, note, Now, Now)] : Array.Empty<ProjectEvent>(),
            decision);
    }

    [Fact]
    public void A_date_moves_with_its_reason_and_the_first_promise_stays()
    {
        var later = FinishBy.PlusDays(20);
        var story = Story.OfProject.Given(Proposed, Started)
            .When(Move(later, "the boat is hired out"))
            .Then(new FinishByMoved(FinishBy, later, "the boat is hired out", Now, Now));

        story.When(Move(later, "the boat is hired out")).ThenNothing();
        story.When(Move(later, null)).ThenNothing();
        story.When(Move(later, "another reason")).ThenRefused("project.reason_alone", "/finishByReason");
        story.When(Move(Today, null)).Then(new FinishByMoved(later, Today, null, Now, Now));

        Assert.Equal((FinishBy, Today), (story.State!.PromisedBy, story.State.FinishBy));
        Assert.Equal([later, Today], story.State.Moves.Select(move => move.To));
    }

    [Fact]
    public void A_date_moves_neither_into_the_past_nor_away_nor_without_a_start()
    {
        var story = Story.OfProject.Given(Proposed, Started);

        story.When(Move(Today.PlusDays(-1), null)).ThenRefused("project.finish_by_invalid", "/finishBy");
        story.When(Move(null, null)).ThenRefused("project.finish_by_invalid", "/finishBy");
        story.When(project => ProjectDecider.ChangeGoal(project, null, Now))
            .ThenRefused("project.goal_invalid", "/goal");
        Story.OfProject.Given(Proposed).When(Move(FinishBy, null)).ThenRefused("project.not_started");
        Story.OfProject.Given(Proposed).When(project => ProjectDecider.ChangeGoal(project, Goal, Now))
            .ThenRefused("project.not_started");
        Story.OfProject.Given(Proposed, Started, Finished).When(Move(Today, null)).ThenRefused("project.finished");
        Story.OfProject.Given(Proposed, Started, Dropped).When(Move(Today, null)).ThenRefused("project.dropped");
    }

    [Fact]
    public void A_finish_may_be_back_dated_and_its_repetition_changes_nothing()
    {
        var at = StartedAt + Duration.FromHours(1);
        var story = Story.OfProject.Given(Proposed, Started, Planned(1))
            .When(Finish("39 places", at))
            .Then(new ProjectFinished("39 places", at, Now));

        story.When(Finish("39 places", at)).ThenNothing();
        story.When(Finish(null, null)).ThenNothing();
        story.When(Finish("40 places", at)).ThenRefused("project.finished");
        story.When(Finish(null, Now)).ThenRefused("project.finished");
        Assert.Null(story.State!.Steps.Single().DoneAt);
    }

    [Fact]
    public void A_finish_lies_between_the_start_and_now()
    {
        var story = Story.OfProject.Given(Proposed, Started);

        story.When(Finish(null, StartedAt - Duration.FromSeconds(1)))
            .ThenRefused("project.finish_before_start", "/at");
        story.When(Finish(null, Now + Duration.FromMinutes(3))).ThenRefused("occurred.future", "/at");
        story.When(Finish("a bell: \a", null)).ThenRefused("project.outcome_invalid", "/outcome");
        Story.OfProject.Given(Proposed).When(Finish(null, null)).ThenRefused("project.not_started");
        story.When(Finish(null, StartedAt)).Then(new ProjectFinished(null, StartedAt, Now));
    }

    [Fact]
    public void A_wrong_finish_is_taken_back()
    {
        var story = Story.OfProject.Given(Proposed, Started, Finished);

        story.When(project => ProjectDecider.Drop(project, null, Now)).ThenRefused("project.finished");
        story.When(project => ProjectDecider.Reopen(project, Now)).Then(new ProjectReopened(Now, Now));
        story.When(project => ProjectDecider.Reopen(project, Now)).ThenNothing();

        Assert.Equal((ProjectState.Started, null, null), (
            story.State!.State, story.State.FinishedAt, story.State.Outcome));
        Story.OfProject.Given(Proposed).When(project => ProjectDecider.Reopen(project, Now))
            .ThenRefused("project.not_started");
    }

    [Theory]
    [InlineData(false, ProjectState.Candidate)]
    [InlineData(true, ProjectState.Started)]
    public void What_was_dropped_comes_back_as_what_it_was(bool wasStarted, ProjectState before)
    {
        var story = Story.OfProject.Given(wasStarted ? [Proposed, Started] : [Proposed]);

        story.When(project => ProjectDecider.Restore(project, Now)).ThenNothing();
        story.When(project => ProjectDecider.Drop(project, "a bell: \a", Now)).ThenRefused("reason.invalid", "/reason");
        story.When(project => ProjectDecider.Drop(project, null, Now)).Then(new ProjectDropped(null, Now, Now));
        Assert.Equal(ProjectState.Dropped, story.State!.State);
        story.When(project => ProjectDecider.Drop(project, "again", Now)).ThenNothing();
        story.When(project => ProjectDecider.Restore(project, Now)).Then(new ProjectRestored(Now, Now));

        Assert.Equal((before, null), (story.State!.State, story.State.DroppedAt));
    }

    private static Func<Project, Decision<ProjectEvent>> Move(LocalDate? to, string? reason) =>
        project => ProjectDecider.MoveFinishBy(project, to, reason, Today, Now);

    private static Func<Project, Decision<ProjectEvent>> Finish(string? outcome, Instant? at) =>
        project => ProjectDecider.Finish(project, outcome, at, Now);
}
