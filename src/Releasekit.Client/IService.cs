using Refit;

namespace Releasekit.Client;

/// <summary>Whether the service runs.</summary>
public interface IService
{
    /// <summary>Whether the process runs.</summary>
    [Get("/health/live")]
    Task<IApiResponse<Health>> Live(CancellationToken cancel = default);

    /// <summary>Whether its start is finished and its database answers.</summary>
    [Get("/health/ready")]
    Task<IApiResponse<Health>> Ready(CancellationToken cancel = default);
}

/// <summary>How the service is.</summary>
/// <param name="Status">pass.</param>
public sealed record Health(string Status);
