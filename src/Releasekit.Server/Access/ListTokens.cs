using Marten;
using Releasekit.Server.Http;

namespace Releasekit.Server.Access;

/// <summary>GET /v1/tokens: the tokens of the publisher, without their secrets.</summary>
internal static class ListTokens
{
    public static void Map(IEndpointRouteBuilder tokens) => tokens
        .MapGet("/", Handle)
        .WithName("listTokens")
        .WithSummary("List tokens")
        .WithDescription("Oldest first; the secrets are not shown.")
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<TokenBody>>> Handle(
        [AsParameters] PageQuery page, Caller caller, HttpContext http, IDocumentStore store, CancellationToken cancel)
    {
        if (page.Read<TokenPosition>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession();
        var tokens = await session.Query<AccessToken>().Where(token => token.Publisher == caller.Publisher)
            .ToListAsync(cancel);
        var rest = tokens
            .OrderBy(token => token.CreatedAt)
            .ThenBy(token => token.Id)
            .Where(token => after is null || (token.CreatedAt, token.Id).CompareTo((after.CreatedAt, after.Id)) > 0)
            .Take(page.Size + 1)
            .ToArray();

        return page.Page(http, rest, TokenBody.Of, token => new TokenPosition(token.CreatedAt, token.Id));
    }

    private sealed record TokenPosition(Instant CreatedAt, Guid Id);
}

/// <param name="Id">Names the token when it is revoked.</param>
/// <param name="Name">Which script or device it is for.</param>
/// <param name="Scopes">What it may do.</param>
/// <param name="CreatedAt">When it was made, UTC.</param>
/// <param name="LastUsedAt">When it was last used, UTC, to the minute; null while it never was.</param>
internal sealed record TokenBody(
    Guid Id, string Name, IReadOnlyList<Scope> Scopes, Instant CreatedAt, Instant? LastUsedAt)
{
    public static TokenBody Of(AccessToken token) =>
        new(token.Id, token.Name, token.Scopes, token.CreatedAt, token.LastUsedAt);
}
