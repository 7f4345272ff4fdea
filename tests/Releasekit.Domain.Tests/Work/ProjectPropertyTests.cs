using CsCheck;
using Releasekit.Domain.Work;
using static Releasekit.Domain.Tests.Work.Atlas;

namespace Releasekit.Domain.Tests.Work;

/// <summary>
/// Whatever is asked of four projects of one publisher, in whatever order, over some years: each answer and each state
/// is that of <see cref="PlainProject"/>. A failure prints the seed that repeats it.
/// </summary>
public sealed class ProjectPropertyTests
{
    private const int Projects = 4;
    private const int Limit = 2;

    private static readonly Domain.Publishers.Publisher Faraway =
        Owner with { Zone = "Pacific/Auckland", ProjectsAYear = Limit };

    private static readonly Gen<Asked> GenWhole = Gen.Select(Gen.Int[0, 5], Gen.Int[-30, 2], Gen.Int[0, 4])
        .Select((which, days, n) => which switch
        {
            0 => Ask($"title {n}", c => c.Plain.Retitle(Word(n)), c => ProjectDecider.Retitle(c.State, Word(n), c.Now)),
            1 => Ask($"rank {n}", c => c.Plain.Rate(n), c => ProjectDecider.Rank(c.State, n, c.Now)),
            2 => Ask("drop", c => c.Plain.Drop(), c => ProjectDecider.Drop(c.State, null, c.Now)),
            3 => Ask("restore", c => c.Plain.Restore(), c => ProjectDecider.Restore(c.State, c.Now)),
            4 => Ask("reopen", c => c.Plain.Reopen(), c => ProjectDecider.Reopen(c.State, c.Now)),
            _ => Ask(
                $"finish {days} {n}",
                c => c.Plain.Finish(Outcome(n), EndAt(days, c), c.Now),
                c => ProjectDecider.Finish(c.State, Outcome(n), EndAt(days, c), c.Now)),
        });

    private static readonly Gen<Asked> GenStart = Gen.Select(Gen.Int[-1, 60], Gen.Bool, Gen.Int[0, 2])
        .Select((days, anyway, n) => Ask(
            $"start +{days} {anyway} {n}",
            c => c.Plain.Begin(Word(n), c.Today.PlusDays(days), anyway, c.Today, c.IsFull, c.Now),
            c => ProjectStart.Decide(
                c.State, new(Word(n), c.Today.PlusDays(days), anyway), Faraway, c.StartedThisYear, c.Now)));

    private static readonly Gen<Asked> GenMove = Gen.Select(Gen.Int[-3, 60], Gen.Bool, Gen.Int[0, 2])
        .Select((days, isSame, n) => Ask(
            $"move +{days} {isSame} {n}",
            c => c.Plain.Move(To(c, days, isSame), Outcome(n), c.Today),
            c => ProjectDecider.MoveFinishBy(c.State, To(c, days, isSame), Outcome(n), c.Today, c.Now)));

    private static readonly Gen<Asked> GenStep = Gen.Select(Gen.Int[0, 3], Gen.Int[0, 3], Gen.Int[0, 4], Gen.Bool)
        .Select((which, n, key, isDone) => which switch
        {
            0 => Ask(
                $"plan {n}",
                c => c.Plain.PlanStep(Word(n), When(n)),
                c => StepDecider.Plan(c.State, new(Word(n), When(n)), c.Now)),
            1 => Ask(
                $"remove {key}",
                c => c.Plain.RemoveStep($"s{key}"),
                c => StepDecider.Remove(c.State, $"s{key}", c.Now)),
            _ => Ask(
                $"step {key} {n} {isDone}",
                c => c.Plain.ChangeStep($"s{key}", Word(n), When(n), isDone),
                c => StepDecider.Change(c.State, $"s{key}", new(Word(n), When(n)), isDone, c.Now)),
        });

    private static readonly Gen<(Asked Asked, int Project, int Hours)[]> GenRequests = Gen.Select(
        Gen.Frequency((4, GenWhole), (3, GenStart), (2, GenMove), (4, GenStep)),
        Gen.Int[0, Projects - 1],
        Gen.OneOf(Gen.Int[0, 3], Gen.Int[0, 24 * 60])).Array[1, 60];

    [Fact]
    public void Every_answer_is_that_of_the_plain_rules() => GenRequests.Sample(requests =>
    {
        var states = Enumerable.Range(0, Projects).Select(_ => After(Proposed with { Title = "Atlas" })).ToArray();
        var plain = Enumerable.Range(0, Projects).Select(_ => new PlainProject()).ToArray();
        var now = ProposedAt;

        foreach (var (asked, i, hours) in requests)
        {
            now += Duration.FromHours(hours);
            var context = new Context(states[i], plain[i], StartedIn(plain, now), now);
            var decision = asked.Decide(context);
            var expected = asked.Expect(context);

            Assert.Equal((asked.What, expected), (asked.What, Told(decision)));
            states[i] = decision.Aggregate(
                states[i], (state, e) => Project.Evolve(state, state.Sequence + 1, e));
            AssertSame(plain[i], states[i]);
            AssertCounts(states[i], now);
            Assert.All(
                states.Where(state => state.StartedAt is not null).GroupBy(state => YearOf(state.StartedAt!.Value)),
                year => Assert.InRange(year.Count(), 1, Limit));
        }
    }, iter: 5000, print: requests => string.Join(
        "; ", requests.Select(request => $"+{request.Hours}h {request.Project}: {request.Asked.What}")));

    private static string[] StartedIn(PlainProject[] all, Instant now) =>
        [.. all.Where(one => one.Start is { } start && YearOf(start.At) == YearOf(now)).Select(one => one.Title)];

    private static int YearOf(Instant at) => at.InZone(DateTimeZoneProviders.Tzdb["Pacific/Auckland"]).Year;

    private static string Told(Decision<ProjectEvent> decision) =>
        decision.Refusal?.Code ?? (decision.Any() ? PlainProject.Done : PlainProject.Same);

    private static void AssertSame(PlainProject plain, Project state)
    {
        Assert.Equal((plain.Title, plain.Rank, plain.State), (state.Title, state.Rank, state.State));
        Assert.Equal(
            (plain.Start?.Goal, plain.Start?.FinishBy, plain.Start?.PromisedBy, plain.Start?.At),
            (state.Goal, state.FinishBy, state.PromisedBy, state.StartedAt));
        Assert.Equal((plain.End?.At, plain.End?.Outcome), (state.FinishedAt, state.Outcome));
        Assert.Equal(plain.Moves, state.Moves.Select(move => (move.From, move.To, move.Reason)));
        Assert.Equal(
            plain.Steps, state.Steps.Select(step => (step.Key, step.What, step.When, step.DoneAt is not null)));
    }

    private static void AssertCounts(Project state, Instant now)
    {
        var progress = ProjectProgress.Of(state, Faraway, now);

        Assert.Equal(state.StartedAt is null, progress is null);
        Assert.True(
            progress is null
                || (double.IsFinite(progress.TimeUsed) && progress is { TimeUsed: >= 0, Share: null or (>= 0 and <= 1) }
                    && progress.Overdue == (state.State is ProjectState.Started && progress.TimeUsed >= 1)),
            $"{progress}");
    }

    private static string Word(int n) => n == 0 ? string.Empty : $"word {n}";

    private static string? Outcome(int n) => n == 0 ? null : $"so {n}";

    private static LocalDate? When(int n) => n == 1 ? null : FinishBy.PlusDays(n);

    private static Instant? EndAt(int days, Context c) => days == 0 ? null : c.Now + Duration.FromDays(days);

    private static LocalDate To(Context c, int days, bool isSame) =>
        isSame && c.State.FinishBy is { } same ? same : c.Today.PlusDays(days);

    private static Asked Ask(
        string what, Func<Context, string> expect, Func<Context, Decision<ProjectEvent>> decide) =>
        new(what, expect, decide);

    private sealed record Asked(
        string What, Func<Context, string> Expect, Func<Context, Decision<ProjectEvent>> Decide);

    private sealed record Context(Project State, PlainProject Plain, string[] StartedThisYear, Instant Now)
    {
        public LocalDate Today => Now.InZone(DateTimeZoneProviders.Tzdb["Pacific/Auckland"]).Date;

        public bool IsFull => StartedThisYear.Length >= Limit;
    }
}
