using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Ideas;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Ideas;

/// <summary>GET /v1/ideas/ranking: which idea first, and why.</summary>
internal static class RankIdeas
{
    private const int MostRanked = 10_000;

    public static void Map(IEndpointRouteBuilder ideas) => ideas
        .MapGet("/ranking", Handle)
        .WithName("rankIdeas")
        .WithSummary("Rank ideas")
        .WithDescription("""
            Ideas that are no releases yet, by worth for an hour of work, the best first; each says why it stands where
            it stands. One that nobody valued counts 2; one without an effort counts the median of the others, or four
            hours.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<RankedIdeaBody>>> Handle(
        [FromQuery] string? series, [AsParameters] PageQuery page, Caller caller, HttpContext http,
        IDocumentStore store, CancellationToken cancel)
    {
        if (page.Read<int>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var ideas = await session.Query<Idea>()
            .Where(idea => idea.RemovedAt == null && idea.Release == null
                && (series == null || idea.Series == series))
            .OrderBy(idea => idea.Id)
            .Take(MostRanked)
            .ToListAsync(cancel);
        var ranked = IdeaRanking.Of(ideas)
            .Select((idea, i) => new RankedIdeaBody(
                i + 1, IdeaBody.Of(idea.Idea), idea.Worth, idea.Effort, idea.WorthPerHour, idea.Reason))
            .Skip(after)
            .Take(page.Size + 1)
            .ToArray();

        return page.Page(http, ranked, idea => idea, idea => idea.Rank);
    }
}

/// <param name="Rank">1 is the best.</param>
/// <param name="Idea">The idea itself.</param>
/// <param name="Worth">What it was ranked by: its own, or 2.</param>
/// <param name="Effort">What it was ranked by: its own, or the median of the others.</param>
/// <param name="WorthPerHour">Worth divided by hours of work.</param>
/// <param name="Reason">The same as a sentence.</param>
internal sealed record RankedIdeaBody(
    int Rank, IdeaBody Idea, int Worth, Duration Effort, double WorthPerHour, string Reason);
