using Refit;

namespace Releasekit.Client.Plans;

/// <summary>Stage plans.</summary>
public interface IStagePlans
{
    /// <summary>The first version of a plan.</summary>
    [Post("/v1/stage-plans")]
    Task<IApiResponse<StagePlan>> Create(
        [Body] CreateStagePlan plan, [Header("Idempotency-Key")] string? key = null,
        CancellationToken cancel = default);

    /// <summary>The latest version of every plan, by id.</summary>
    [Get("/v1/stage-plans")]
    Task<IApiResponse<Page<StagePlan>>> List(
        int? limit = null, string? cursor = null, CancellationToken cancel = default);

    /// <summary>The latest version of a plan, or an earlier one.</summary>
    [Get("/v1/stage-plans/{plan}")]
    Task<IApiResponse<StagePlan>> Get(string plan, int? version = null, CancellationToken cancel = default);

    /// <summary>Makes a new version; releases keep the one they have.</summary>
    [Put("/v1/stage-plans/{plan}")]
    Task<IApiResponse<StagePlan>> Replace(
        string plan, [Body] ReplaceStagePlan stages, [Header("If-Match")] string? ifMatch,
        CancellationToken cancel = default);
}

/// <summary>One version of a named list of stages.</summary>
public sealed record StagePlan(string Id, string Name, int Version, IReadOnlyList<PlannedStage> Stages);

/// <summary>One step of the work, as planned.</summary>
/// <param name="LeastEffort">If all goes well; with <paramref name="MostEffort"/> or not at all.</param>
/// <param name="MostEffort">If much goes wrong.</param>
/// <param name="After">Keys of the stages it follows; null: the one before it in the list.</param>
/// <param name="Strict">Those of <paramref name="After"/> without which it may not be completed.</param>
/// <param name="Within">For a follow-up: due so long after publication.</param>
public sealed record PlannedStage(
    string Key,
    string? Name = null,
    bool Publication = false,
    Duration? Effort = null,
    Duration? LeastEffort = null,
    Duration? MostEffort = null,
    IReadOnlyList<string>? After = null,
    IReadOnlyList<string>? Strict = null,
    Duration? Within = null,
    IReadOnlyList<string>? Checklist = null);

/// <summary>A plan to create.</summary>
public sealed record CreateStagePlan(string Id, IReadOnlyList<PlannedStage> Stages, string? Name = null);

/// <summary>What the next version holds.</summary>
public sealed record ReplaceStagePlan(IReadOnlyList<PlannedStage> Stages, string? Name = null);
