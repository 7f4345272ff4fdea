namespace Releasekit.Server.Access;

/// <summary>What a token may do.</summary>
internal enum Scope
{
    /// <summary>Read everything of its publisher; secrets are shown by nothing.</summary>
    Read,

    /// <summary>Change its publisher's things.</summary>
    Write,

    /// <summary>Tokens, feeds, settings of its publisher.</summary>
    Admin,

    /// <summary>Publishers and jobs of the whole service.</summary>
    Operator,
}

/// <summary>The scope a route asks for. A route without one is refused when the service starts.</summary>
internal sealed record NeededScope(Scope? Scope);

internal static class ScopeRoutes
{
    public static TBuilder Needs<TBuilder>(this TBuilder route, Scope scope)
        where TBuilder : IEndpointConventionBuilder => route.WithMetadata(new NeededScope(scope));

    /// <summary>Says that a route is open to everyone on purpose.</summary>
    public static TBuilder NeedsNoToken<TBuilder>(this TBuilder route)
        where TBuilder : IEndpointConventionBuilder => route.WithMetadata(new NeededScope(null));

    /// <summary>Deny by default (OWASP API5:2023): no route may be mapped without saying who may call it.</summary>
    public static void RefuseRoutesWithoutScope(this IEndpointRouteBuilder routes)
    {
        var open = routes.DataSources
            .SelectMany(source => source.Endpoints)
            .OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.Metadata.GetMetadata<NeededScope>() is null)
            .Select(endpoint => endpoint.RoutePattern.RawText)
            .ToArray();

        if (open.Length > 0)
        {
            throw new InvalidOperationException($"Routes without a scope: {string.Join(", ", open)}");
        }
    }
}
