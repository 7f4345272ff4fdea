namespace Releasekit.Server.Http;

/// <summary>
/// What a route says about itself beyond its signature: the good status it answers with, and the refusals of its own.
/// </summary>
/// <param name="Good">200 unless said otherwise.</param>
/// <param name="Refusals">Problem statuses besides those that every route can answer.</param>
internal sealed record AnswersOfRoute(int Good, IReadOnlyList<int> Refusals);

internal static class ContractOfRoutes
{
    /// <param name="good">200, 201, 202 or 204.</param>
    /// <param name="refusals">Such as 404, 409, 412, 422, 428; 400, 401, 403, 429 and 503 go without saying.</param>
    public static TBuilder Answers<TBuilder>(this TBuilder route, int good, params int[] refusals)
        where TBuilder : IEndpointConventionBuilder => route.WithMetadata(new AnswersOfRoute(good, refusals));
}
