using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Ideas;

/// <summary>
/// Which idea first: most worth for an hour of work. Taking things by falling ratio of worth to time makes the sum of
/// worth times waiting least (W. E. Smith, "Various optimizers for single-stage production", Naval Research Logistics
/// Quarterly 3, 1956, from memory).
/// </summary>
public static class IdeaRanking
{
    /// <summary>What an idea counts that nobody valued: neither high nor low.</summary>
    public const int UnknownWorth = 2;

    private static readonly Duration UnknownEffort = Duration.FromHours(4);
    private static readonly Duration LeastEffort = Duration.FromMinutes(15);

    /// <summary>
    /// The ideas, best first; equals in the order they were noted. One without an effort counts the median of those
    /// that have one, four hours when none has; less than a quarter of an hour counts as that.
    /// </summary>
    public static IReadOnlyList<RankedIdea> Of(IEnumerable<Idea> ideas)
    {
        var open = ideas.ToArray();
        var usual = UsualEffort(open);

        return
        [
            .. open
                .Select(idea => Rank(idea, usual))
                .OrderByDescending(ranked => ranked.WorthPerHour)
                .ThenBy(ranked => ranked.Idea.NotedAt)
                .ThenBy(ranked => ranked.Idea.Id),
        ];
    }

    private static RankedIdea Rank(Idea idea, Duration usual)
    {
        var worth = idea.Worth ?? UnknownWorth;
        var effort = Duration.Max(idea.Effort ?? usual, LeastEffort);
        return new(idea, worth, effort, worth / effort.TotalHours);
    }

    private static Duration UsualEffort(Idea[] ideas)
    {
        var hours = ideas.Select(idea => idea.Effort?.TotalHours).OfType<double>().ToArray();
        return Median.Of(hours) is { } usual ? Duration.FromHours(usual) : UnknownEffort;
    }
}

/// <summary>An idea with what it was ranked by.</summary>
/// <param name="Worth">Its own, or <see cref="IdeaRanking.UnknownWorth"/>.</param>
/// <param name="Effort">Its own, or the usual one.</param>
public sealed record RankedIdea(Idea Idea, int Worth, Duration Effort, double WorthPerHour)
{
    /// <summary>Why it stands where it stands, as a sentence.</summary>
    public string Reason => string.Create(System.Globalization.CultureInfo.InvariantCulture,
        $"Worth {Worth}{(Idea.Worth is null ? " (assumed)" : "")} for {Effort.TotalHours:0.##} h of work"
        + $"{(Idea.Effort is null ? " (assumed)" : "")}: {WorthPerHour:0.##} for an hour.");
}
