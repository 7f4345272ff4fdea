using System.Collections.Concurrent;
using System.Reflection;
using Microsoft.AspNetCore.Mvc;

namespace Releasekit.Server.Http;

/// <summary>
/// Refuses query parameters that a route does not know, or that stand twice: a typo must not be lost silently.
/// </summary>
internal sealed class QueryGuard(RequestDelegate next)
{
    private readonly ConcurrentDictionary<Endpoint, HashSet<string>> _known = new();

    public Task InvokeAsync(HttpContext http)
    {
        if (http.Request.QueryString.HasValue && http.GetEndpoint() is { } endpoint
            && endpoint.Metadata.GetMetadata<MethodInfo>() is not null
            && http.Request.Path.StartsWithSegments("/v1"))
        {
            var known = _known.GetOrAdd(endpoint, KnownBy);

            foreach (var (name, values) in http.Request.Query)
            {
                if (!known.Contains(name))
                {
                    var right = known.Count == 0
                        ? "this address takes none" : $"known here are {string.Join(", ", known.Order())}";
                    return ProblemWriter.Write(http, Problems.Of(
                        "query-invalid", $"There is no query parameter '{name}'; {right}.",
                        new ProblemError(name, "Unknown.")));
                }

                if (values.Count > 1)
                {
                    return ProblemWriter.Write(http, Problems.Of(
                        "query-invalid", $"'{name}' stands {values.Count} times; it may stand once.",
                        new ProblemError(name, "Stands twice.")));
                }
            }
        }

        return next(http);
    }

    private static HashSet<string> KnownBy(Endpoint endpoint) =>
        [.. Names(endpoint.Metadata.GetRequiredMetadata<MethodInfo>().GetParameters())];

    private static IEnumerable<string> Names(IEnumerable<ParameterInfo> parameters) =>
        parameters.SelectMany(parameter =>
        parameter.GetCustomAttribute<AsParametersAttribute>() is not null
            ? NamesOfProperties(parameter.ParameterType)
            : parameter.GetCustomAttribute<FromQueryAttribute>() is { } query ? [query.Name ?? parameter.Name!] : []);

    private static IEnumerable<string> NamesOfProperties(Type group) => group
        .GetProperties()
        .Select(property => property.GetCustomAttribute<FromQueryAttribute>()?.Name)
        .OfType<string>();
}
