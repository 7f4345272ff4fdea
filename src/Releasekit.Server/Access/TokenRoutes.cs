namespace Releasekit.Server.Access;

/// <summary>Every route of tokens, in the order a token meets them.</summary>
internal static class TokenRoutes
{
    public static void MapTokens(this IEndpointRouteBuilder api)
    {
        var tokens = api.MapGroup("/tokens").WithTags("Tokens");

        CreateToken.Map(tokens);
        ListTokens.Map(tokens);
        RevokeToken.Map(tokens);
    }
}
