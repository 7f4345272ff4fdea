using Releasekit.Domain.Ideas;

namespace Releasekit.Domain.Tests.Ideas;

/// <summary>Which idea first.</summary>
public sealed class IdeaRankingTests
{
    private static readonly Instant Noted = Instant.FromUtc(2026, 3, 1, 9, 0);

    /// <summary>Smith's rule (1956): no other order has a smaller sum of worth times completion.</summary>
    [Fact]
    public void No_other_order_makes_worth_wait_less()
    {
        var random = new Random(20260301);

        for (var round = 0; round < 200; round++)
        {
            var ideas = Enumerable.Range(0, 5)
                .Select(i => Idea($"idea {i}", random.Next(1, 4), random.Next(1, 12)))
                .ToArray();

            var ranked = WaitingOf(IdeaRanking.Of(ideas).Select(rank => rank.Idea));

            Assert.Equal(Orders(ideas).Min(WaitingOf), ranked, 9);
        }
    }

    [Fact]
    public void What_nobody_said_is_assumed_and_told_so()
    {
        Idea[] ideas = [Idea("a", 3, 2), Idea("b", null, 4), Idea("c", 1, null)];

        var ranked = IdeaRanking.Of(ideas);

        // The median of 2 and 4 hours is 3.
        Assert.Equal(["a", "b", "c"], ranked.Select(rank => rank.Idea.Text));
        Assert.Equal(
            [
                "Worth 3 for 2 h of work: 1.5 for an hour.",
                "Worth 2 (assumed) for 4 h of work: 0.5 for an hour.",
                "Worth 1 for 3 h of work (assumed): 0.33 for an hour.",
            ],
            ranked.Select(rank => rank.Reason));
    }

    [Fact]
    public void Equals_stand_as_they_were_noted()
    {
        var later = Idea("later", 2, 2) with { NotedAt = Noted + Duration.FromDays(1) };
        var earlier = Idea("earlier", 2, 2);

        Assert.Equal(["earlier", "later"], IdeaRanking.Of([later, earlier]).Select(rank => rank.Idea.Text));
    }

    private static Idea Idea(string text, int? worth, int? hours) => new(Guid.NewGuid(), text, Noted)
    {
        Worth = worth,
        Effort = hours is { } guess ? Duration.FromHours(guess) : null,
    };

    private static double WaitingOf(IEnumerable<Idea> ideas)
    {
        var (done, waiting) = (0.0, 0.0);

        foreach (var idea in ideas)
        {
            done += idea.Effort!.Value.TotalHours;
            waiting += idea.Worth!.Value * done;
        }

        return waiting;
    }

    private static IEnumerable<IEnumerable<Idea>> Orders(Idea[] ideas) => ideas.Length <= 1
        ? [ideas]
        : ideas.SelectMany(
            first => Orders([.. ideas.Where(idea => idea != first)]).Select(rest => rest.Prepend(first)));
}
