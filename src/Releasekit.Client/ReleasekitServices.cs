using System.Net.Http.Headers;
using Microsoft.Extensions.DependencyInjection;

namespace Releasekit.Client;

/// <summary>Gives an application its <see cref="ReleasekitClient"/>.</summary>
public static class ReleasekitServices
{
    /// <summary>
    /// Registers a client for the service at <paramref name="address"/>; its connections are pooled and renewed.
    /// </summary>
    public static IHttpClientBuilder AddReleasekit(this IServiceCollection services, Uri address, string token) =>
        services
        .AddHttpClient<ReleasekitClient>(http =>
        {
            http.BaseAddress = address;
            http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        });
}
