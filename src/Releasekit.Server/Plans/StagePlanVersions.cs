using Releasekit.Domain.Releases;

namespace Releasekit.Server.Plans;

/// <summary>All versions of a stage plan, first to latest: releases keep the version they were planned with.</summary>
internal sealed record StagePlanVersions(string Id, IReadOnlyList<StagePlan> Versions)
{
    public StagePlan Latest => Versions[^1];

    public StagePlan? Find(int version) => Versions.FirstOrDefault(plan => plan.Version == version);
}
