using Releasekit.Domain.Work;
using static Releasekit.Domain.Tests.Work.Atlas;

namespace Releasekit.Domain.Tests.Work;

/// <summary>The steps of a project. The rules are ours (shared domain page): no source outside.</summary>
public sealed class StepDeciderTests
{
    private static readonly LocalDate After = new(2026, 7, 10);

    [Fact]
    public void Keys_count_up_and_are_never_given_twice()
    {
        var story = Story.OfProject.Given(Proposed, Planned(1), Planned(2));

        story.When(project => StepDecider.Remove(project, "s2", Now)).Then(new StepRemoved("s2", Now, Now));
        story.When(project => StepDecider.Remove(project, "s2", Now)).ThenRefused("step.unknown");
        story.When(project => StepDecider.Plan(project, new("Draw the map"), Now))
            .Then(new StepPlanned("s3", "Draw the map", null, null, Now, Now));

        Assert.Equal(["s1", "s3"], story.State!.Steps.Select(step => step.Key));
    }

    [Fact]
    public void A_step_may_be_meant_for_a_date_after_the_promised_end() => Story.OfProject
        .Given(Proposed, Started)
        .When(project => StepDecider.Plan(project, new("Print it", After, "if ever"), Now))
        .Then(new StepPlanned("s1", "Print it", After, "if ever", Now, Now));

    [Fact]
    public void One_request_may_change_a_step_and_tick_it()
    {
        var story = Story.OfProject.Given(Proposed, Planned(1));

        story.When(project => StepDecider.Change(project, "s1", new("Shore one", After), done: true, Now))
            .Then(new StepChanged("s1", "Shore one", After, null, Now, Now), new StepFinished("s1", Now, Now));
        story.When(project => StepDecider.Change(project, "s1", new("Shore one", After), done: true, Now))
            .ThenNothing();
        story.When(project => StepDecider.Change(project, "s1", new("Shore one", After), done: false, Now))
            .Then(new StepReopened("s1", Now, Now));
    }

    [Theory]
    [InlineData("", 2026, null, "step.invalid", "/what")]
    [InlineData("two\nlines", 2026, null, "step.invalid", "/what")]
    [InlineData("Draw", 1969, null, "step.invalid", "/when")]
    [InlineData("Draw", 2200, null, "step.invalid", "/when")]
    [InlineData("Draw", 2026, "a bell: \a", "note.invalid", "/note")]
    public void A_step_is_one_line_with_a_date_that_can_be(
        string what, int year, string? note, string code, string member)
    {
        var terms = new StepTerms(what, new LocalDate(year, 1, 1), note);

        Story.OfProject.Given(Proposed).When(project => StepDecider.Plan(project, terms, Now))
            .ThenRefused(code, member);
        Story.OfProject.Given(Proposed, Planned(1))
            .When(project => StepDecider.Change(project, "s1", terms, done: false, Now)).ThenRefused(code, member);
    }

    [Fact]
    public void Two_hundred_steps_are_the_most() => Story.OfProject
        .Given([Proposed, .. Enumerable.Range(1, 200).Select(i => Planned(i))])
        .When(project => StepDecider.Plan(project, new("One more"), Now))
        .ThenRefused("step.too_many");

    [Fact]
    public void What_is_over_takes_no_steps_but_repeats_what_is_so()
    {
        foreach (ProjectEvent end in new ProjectEvent[] { Finished, Dropped })
        {
            var code = end is ProjectFinished ? "project.finished" : "project.dropped";
            var story = Story.OfProject.Given(Proposed, Started, Planned(1), end);

            story.When(project => StepDecider.Plan(project, new("More"), Now)).ThenRefused(code);
            story.When(project => StepDecider.Remove(project, "s1", Now)).ThenRefused(code);
            story.When(project => StepDecider.Change(project, "s1", new("Shore 1"), done: true, Now))
                .ThenRefused(code);
            story.When(project => StepDecider.Change(project, "s1", new("Shore 1"), done: false, Now)).ThenNothing();
        }
    }
}
