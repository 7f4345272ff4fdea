using Refit;

namespace Releasekit.Client.Publishers;

/// <summary>Tokens of the publisher.</summary>
public interface ITokens
{
    /// <summary>Makes a token; it is shown this once.</summary>
    [Post("/v1/tokens")]
    Task<IApiResponse<NewToken>> Create(
        [Body] CreateToken token, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>The tokens, oldest first, without their secrets.</summary>
    [Get("/v1/tokens")]
    Task<IApiResponse<Page<Token>>> List(int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>Revokes a token at once.</summary>
    [Delete("/v1/tokens/{id}")]
    Task<IApiResponse> Revoke(Guid id, CancellationToken cancel = default);
}

/// <summary>A token to make.</summary>
/// <param name="Scopes">Of read, write, admin, operator.</param>
public sealed record CreateToken(string Name, IReadOnlyList<string> Scopes);

/// <summary>A token that was made, shown this once.</summary>
public sealed record NewToken(Guid Id, string Token, string Name, IReadOnlyList<string> Scopes);

/// <summary>A token without its secret.</summary>
/// <param name="LastUsedAt">To the minute; null while it was never used.</param>
public sealed record Token(Guid Id, string Name, IReadOnlyList<string> Scopes, Instant CreatedAt, Instant? LastUsedAt);
