using Releasekit.Domain.Work;
using static Releasekit.Domain.Tests.Work.Atlas;

namespace Releasekit.Domain.Tests.Work;

/// <summary>
/// Progress against time used. That a share of work is held against the share of time is common practice, no source;
/// the lengths of days are those of the tz database.
/// </summary>
public sealed class ProjectProgressTests
{
    private static readonly Instant Midnight = Instant.FromUtc(2026, 3, 1, 0, 0);

    [Fact]
    public void Half_the_time_is_half_the_time()
    {
        var progress = At(Lasting(28), Midnight + Duration.FromDays(14), steps: 8, done: 3);

        Assert.Equal((3, 8, 0.375, 0.5, false), (
            progress.StepsDone, progress.Steps, progress.Share, progress.TimeUsed, progress.Overdue));
        Assert.Equal("3 of 8 steps done with 50 % of the time used", progress.Standing);
    }

    [Fact]
    public void The_day_to_finish_by_belongs_to_the_time_and_the_next_does_not()
    {
        var end = Midnight + Duration.FromDays(28);
        var last = At(Lasting(28), end - Duration.FromMilliseconds(1), steps: 1, done: 1);
        var after = At(Lasting(28), end, steps: 1, done: 1);
        var twice = At(Lasting(28), end + Duration.FromDays(28), steps: 0, done: 0);

        Assert.Equal((false, "1 of 1 step done with 99 % of the time used"), (last.Overdue, last.Standing));
        Assert.Equal((1, true, "1 of 1 step done with 100 % of the time used"), (
            after.TimeUsed, after.Overdue, after.Standing));
        Assert.Equal((2, null, "no steps planned, with 200 % of the time used"), (
            twice.TimeUsed, twice.Share, twice.Standing));
    }

    /// <summary>Lisbon's 29 March 2026 has 23 hours, its 25 October 25 (tz database).</summary>
    [Theory]
    [InlineData(2026, 3, 29, 23)]
    [InlineData(2026, 10, 25, 25)]
    [InlineData(2026, 6, 30, 24)]
    public void The_last_day_is_as_long_as_it_is(int year, int month, int day, int hours)
    {
        var date = new LocalDate(year, month, day);
        var begin = Owner.StartOf(date);
        var project = After(Proposed, new ProjectStarted(Goal, date, begin, begin));

        Assert.Equal(1.0 / hours, ProjectProgress.Of(project, Owner, begin + Duration.FromHours(1))!.TimeUsed, 12);
    }

    [Fact]
    public void Nothing_is_told_before_the_start_and_what_is_over_stands_still()
    {
        var later = Now + Duration.FromDays(400);
        var done = ProjectProgress.Of(After(Proposed, Started, Finished), Owner, later)!;
        var dropped = ProjectProgress.Of(After(Proposed, Started, Dropped), Owner, later)!;
        var open = ProjectProgress.Of(After(Proposed, Started), Owner, later)!;

        Assert.Null(ProjectProgress.Of(After(Proposed), Owner, Now));
        Assert.Null(ProjectProgress.Of(After(Proposed, Dropped), Owner, later));
        Assert.Equal((Now, false, Now, false), (done.CountedAt, done.Overdue, dropped.CountedAt, dropped.Overdue));
        Assert.Equal((later, true), (open.CountedAt, open.Overdue));
        Assert.Equal(0, ProjectProgress.Of(After(Proposed, Started), Owner, ProposedAt)!.TimeUsed);
    }

    [Fact]
    public void A_move_across_the_date_line_leaves_a_number()
    {
        var startedAt = Instant.FromUtc(2026, 3, 3, 9, 59);
        var project = After(
            Proposed, new ProjectStarted(Goal, new(2026, 3, 2), startedAt, startedAt));

        // Midnight of 3 March came to Kiritimati (+14, tz database) before it was started.
        var progress = ProjectProgress.Of(project, Owner with { Zone = "Pacific/Kiritimati" }, startedAt)!;

        Assert.Equal((1, true), (progress.TimeUsed, progress.Overdue));
    }

    private static Project Lasting(int days) => After(
        Proposed with { OccurredAt = Midnight },
        new ProjectStarted(Goal, new LocalDate(2026, 3, 1).PlusDays(days - 1), Midnight, Midnight));

    private static ProjectProgress At(Project project, Instant at, int steps, int done)
    {
        var events = Enumerable.Range(1, steps).Select(i => (ProjectEvent)Planned(i))
            .Concat(Enumerable.Range(1, done).Select(i => Done(i)));

        return ProjectProgress.Of(
            events.Aggregate(project, (state, e) => Project.Evolve(state, state.Sequence + 1, e)), Owner, at)!;
    }
}
