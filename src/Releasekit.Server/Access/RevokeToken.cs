using Marten;
using Releasekit.Server.Http;

namespace Releasekit.Server.Access;

/// <summary>
/// DELETE /v1/tokens/{id}: revokes a token at once. Feeds made with it go on; they are revoked on their own.
/// </summary>
internal static class RevokeToken
{
    public static void Map(IEndpointRouteBuilder tokens) => tokens
        .MapDelete("/{id:guid}", Handle)
        .WithName("revokeToken")
        .WithSummary("Revoke a token")
        .WithDescription("It stops working at once. Feeds made with it go on; they are revoked on their own.")
        .Answers(204, 404)
        .Needs(Scope.Admin);

    private static async Task<Answer<Nothing>> Handle(
        Guid id, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        var token = await session.LoadAsync<AccessToken>(id, cancel);

        if (token is null || token.Publisher != caller.Publisher)
        {
            return Problems.NotFound("token of that id");
        }

        session.Delete(token);
        await session.SaveChangesAsync(cancel);

        return Http.Answers.NoContent();
    }
}
