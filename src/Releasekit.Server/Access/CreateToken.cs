using Marten;
using Releasekit.Domain;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Access;

/// <summary>POST /v1/tokens: makes a token for a script or a device; the token itself is shown this once.</summary>
internal static class CreateToken
{
    public static void Map(IEndpointRouteBuilder tokens) => tokens
        .MapPost("/", Handle)
        .WithName("createToken")
        .WithSummary("Make a token")
        .WithDescription("The token is shown this once. It can hold no scope that the calling token lacks.")
        .Answers(201, 422)
        .Needs(Scope.Admin);

    private static async Task<Answer<NewTokenBody>> Handle(
        CreateTokenRequest body, Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (Wording.FaultOfLine(body.Name, "A name") is { } fault)
        {
            return Problems.Of("invalid", fault, new ProblemError("/name", fault));
        }

        var scopes = body.Scopes.Distinct().Order().ToArray();

        if (scopes.Length == 0)
        {
            return Problems.Of(
                "invalid", "A token needs a scope: read, write or admin.", new ProblemError("/scopes", "Empty."));
        }

        if (scopes.Except(caller.Scopes).Any())
        {
            return Problems.Of(
                "forbidden",
                $"Your token can hand on {string.Join(", ", caller.Scopes).ToLowerInvariant()} and no other scope.");
        }

        var (token, secret) = New(caller.Publisher, body.Name, scopes, clock.Now);
        await using var session = store.LightweightSession();
        session.Insert(token);
        await session.SaveChangesAsync(cancel);

        return Http.Answers.Created(
            $"/v1/tokens/{token.Id}", new NewTokenBody(token.Id, secret, token.Name, token.Scopes));
    }

    /// <summary>A token that is not stored yet, and its secret.</summary>
    public static (AccessToken Token, string Secret) New(
        string publisher, string name, IReadOnlyList<Scope> scopes, Instant now)
    {
        var secret = Secrets.New();
        return (new(Secrets.IdOf(secret), Secrets.DigestOf(secret), publisher, name, scopes, now), secret);
    }
}

/// <param name="Name">Which script or device it is for.</param>
/// <param name="Scopes">What it may do: read, write, admin, operator; none that your own token lacks.</param>
internal sealed record CreateTokenRequest(string Name, IReadOnlyList<Scope> Scopes);

/// <param name="Id">Names the token when it is revoked.</param>
/// <param name="Token">The token itself; it is not shown again.</param>
/// <param name="Name">Which script or device it is for.</param>
/// <param name="Scopes">What it may do.</param>
internal sealed record NewTokenBody(Guid Id, string Token, string Name, IReadOnlyList<Scope> Scopes);
