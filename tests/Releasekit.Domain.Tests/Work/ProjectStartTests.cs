using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;
using static Releasekit.Domain.Tests.Work.Atlas;

namespace Releasekit.Domain.Tests.Work;

/// <summary>When a candidate may be started. The rules are ours (shared domain page): no source outside.</summary>
public sealed class ProjectStartTests
{
    [Fact]
    public void A_candidate_is_started_with_a_goal_and_a_date() => Story.OfProject
        .Given(Proposed)
        .When(Start(FinishBy))
        .Then(new ProjectStarted(Goal, FinishBy, Now, Now));

    [Fact]
    public void A_dropped_candidate_is_restored_first() => Story.OfProject
        .Given(Proposed, Dropped).When(Start(FinishBy)).ThenRefused("project.dropped");

    [Theory]
    [InlineData("2026-03-04", true, "project.finish_by_invalid")]
    [InlineData("2026-03-05", false, "project.too_short")]
    [InlineData("2026-03-05", true, null)]
    [InlineData("2026-03-31", false, "project.too_short")]
    [InlineData("2026-04-01", false, null)]
    [InlineData("2199-12-31", false, null)]
    [InlineData("2200-01-01", false, "project.finish_by_invalid")]
    public void Four_weeks_are_the_least_unless_meant(string finishBy, bool anyway, string? code)
    {
        var decision = Start(NodaTime.Text.LocalDatePattern.Iso.Parse(finishBy).Value, anyway)(After(Proposed));

        Assert.Equal((code, code is null ? 1 : 0), (decision.Refusal?.Code, decision.Count()));
        Assert.True(code is not "project.too_short"
            || (decision.Refusal!.Reason.Contains("task", StringComparison.Ordinal)
                && decision.Refusal.Reason.Contains("\"anyway\": true", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("")]
    [InlineData(" \n ")]
    [InlineData("a bell: \a")]
    public void A_goal_is_needed(string goal) => Story.OfProject
        .Given(Proposed)
        .When(project => ProjectStart.Decide(project, new(goal, FinishBy), Owner, [], Now))
        .ThenRefused("project.goal_invalid", "/goal");

    [Fact]
    public void The_same_start_again_changes_nothing_and_another_is_refused()
    {
        Story.OfProject.Given(Proposed, Started).When(Start(FinishBy)).ThenNothing();
        Story.OfProject.Given(Proposed, Started).When(Start(FinishBy.PlusDays(1))).ThenRefused("project.started");
        Story.OfProject.Given(Proposed, Started, Finished).When(Start(FinishBy)).ThenRefused("project.finished");
        Story.OfProject.Given(Proposed, Started, Dropped).When(Start(FinishBy)).ThenRefused("project.dropped");
    }

    [Fact]
    public void Over_the_limit_the_refusal_names_what_was_started_and_what_would_be_right()
    {
        var decision = ProjectStart.Decide(
            After(Proposed), new(Goal, FinishBy), Owner with { ProjectsAYear = 2 }, ["Night walk", "Booklet"], Now);

        Assert.Equal(("project.limit", RefusalKind.Conflict), (decision.Refusal!.Code, decision.Refusal.Kind));
        Assert.All(["'Night walk'", "'Booklet'", "2026", "2027", "projectsAYear"], word =>
            Assert.Contains(word, decision.Refusal.Reason, StringComparison.Ordinal));
    }

    [Fact]
    public void A_limit_of_none_lets_none_begin() => Story.OfProject
        .Given(Proposed)
        .When(project => ProjectStart.Decide(
            project, new(Goal, FinishBy), Owner with { ProjectsAYear = 0 }, [], Now))
        .ThenRefused("project.limit");

    /// <summary>Offsets at the turn of the year: +13 in Auckland (summer), -10 in Honolulu (tz database).</summary>
    [Theory]
    [InlineData("Europe/Lisbon", "2026-01-01T00:00Z", "2027-01-01T00:00Z")]
    [InlineData("Pacific/Auckland", "2025-12-31T11:00Z", "2026-12-31T11:00Z")]
    [InlineData("Pacific/Honolulu", "2026-01-01T10:00Z", "2027-01-01T10:00Z")]
    public void The_year_is_the_publishers_own(string zone, string from, string to)
    {
        var pattern = NodaTime.Text.InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm'Z'");

        var year = ProjectStart.YearOf(Owner with { Zone = zone }, Now);

        Assert.Equal(new Interval(pattern.Parse(from).Value, pattern.Parse(to).Value), year);
        Assert.Equal(year, ProjectStart.YearOf(Owner with { Zone = zone }, year.End - Duration.Epsilon));
        Assert.Equal(year.End, ProjectStart.YearOf(Owner with { Zone = zone }, year.End).Start);
    }

    [Theory]
    [InlineData(-1, false)]
    [InlineData(0, true)]
    [InlineData(100, true)]
    [InlineData(101, false)]
    public void A_publisher_takes_on_up_to_a_hundred_a_year(int limit, bool isFine) => Assert.Equal(
        isFine ? null : "/projectsAYear",
        PublisherRules.Check(Owner with { ProjectsAYear = limit })?.Faults.Single().Member);

    private static Func<Project, Decision<ProjectEvent>> Start(LocalDate finishBy, bool anyway = false) =>
        project => ProjectStart.Decide(project, new(Goal, finishBy, anyway), Owner, [], Now);
}
