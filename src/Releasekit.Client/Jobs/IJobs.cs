using Refit;

namespace Releasekit.Client.Jobs;

/// <summary>What the service does by itself (operator).</summary>
public interface IJobs
{
    /// <summary>Every job with its latest runs.</summary>
    [Get("/v1/jobs")]
    Task<IApiResponse<JobList>> List(CancellationToken cancel = default);
}

/// <summary>All jobs.</summary>
public sealed record JobList(IReadOnlyList<Job> Items);

/// <summary>A job.</summary>
/// <param name="Schedule">When it runs, in words.</param>
/// <param name="Runs">Newest first.</param>
public sealed record Job(
    string Name, string What, string Schedule, Instant? NextAt, IReadOnlyList<JobRun> Runs);

/// <summary>A run of a job.</summary>
/// <param name="EndedAt">Null while it runs, and for good when its process died.</param>
public sealed record JobRun(
    string? Publisher, Instant BeganAt, Instant? EndedAt, bool Failed, string? Reason, bool TakenOver);
