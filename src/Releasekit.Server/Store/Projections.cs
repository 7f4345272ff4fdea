using JasperFx.Events;
using JasperFx.Events.Projections;
using Marten;
using Marten.Events.Aggregation;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;
using Releasekit.Server.Search;

namespace Releasekit.Server.Store;

/// <summary>Keeps each release's current state as a document, with the domain's own fold.</summary>
internal sealed class ReleaseProjection : SingleStreamProjection<Release, Guid>
{
    public ReleaseProjection() => Streams.Prepare<ReleaseEvent>(this);

    public override Release? Evolve(Release? snapshot, Guid id, IEvent e) =>
        e.Data is ReleaseEvent happened ? Release.Evolve(snapshot, e.Version, happened) : snapshot;

    /// <summary>A release is found by its title from the transaction on that gives it.</summary>
    public override ValueTask RaiseSideEffects(IDocumentOperations operations, Guid id, IEventSlice<Release> slice)
    {
        if (slice.Snapshot is { } release
            && slice.Events().Any(
                e => e.Data is ReleasePlanned or ReleaseRetitled or ReleaseRestored or ReleaseDropped))
        {
            var about = string.Join('\n', release.ExternalId, release.DroppedFor);
            SearchIndex.Put(
                operations, "release", id, $"/v1/releases/{id}", new(release.Title, about, release.ChangedAt));
        }

        return ValueTask.CompletedTask;
    }
}

/// <summary>Keeps each series' current state as a document, with the domain's own fold.</summary>
internal sealed class SeriesProjection : SingleStreamProjection<Series, Guid>
{
    public SeriesProjection() => Streams.Prepare<SeriesEvent>(this);

    public override Series? Evolve(Series? snapshot, Guid id, IEvent e) =>
        e.Data is SeriesEvent happened ? Series.Evolve(snapshot, e.Version, happened) : snapshot;

    /// <summary>As a release is.</summary>
    public override ValueTask RaiseSideEffects(IDocumentOperations operations, Guid id, IEventSlice<Series> slice)
    {
        if (slice.Snapshot is { } series && slice.Events().Any(e => e.Data is SeriesOpened or SeriesAmended))
        {
            var changedAt = slice.Events().Select(e => e.Data).OfType<SeriesEvent>().Last().RecordedAt;
            SearchIndex.Put(
                operations, "series", id, $"/v1/series/{series.Slug}", new(series.Title, series.Slug, changedAt));
        }

        return ValueTask.CompletedTask;
    }
}

/// <summary>Keeps each project's current state as a document, with the domain's own fold.</summary>
internal sealed class ProjectProjection : SingleStreamProjection<Project, Guid>
{
    public ProjectProjection() => Streams.Prepare<ProjectEvent>(this);

    public override Project? Evolve(Project? snapshot, Guid id, IEvent e) =>
        e.Data is ProjectEvent happened ? Project.Evolve(snapshot, e.Version, happened) : snapshot;

    /// <summary>As a release is; all of its events change what it is found by, or when it was changed.</summary>
    public override ValueTask RaiseSideEffects(IDocumentOperations operations, Guid id, IEventSlice<Project> slice)
    {
        if (slice.Snapshot is { } project)
        {
            string?[] about = [project.Goal, project.Note, project.Outcome, .. project.Steps.Select(step => step.What)];
            SearchIndex.Put(
                operations, "project", id, $"/v1/projects/{id}",
                new(project.Title, string.Join('\n', about), project.ChangedAt));
        }

        return ValueTask.CompletedTask;
    }
}

/// <summary>What the three have in common when they are made anew.</summary>
internal static class Streams
{
    // Measured: a rebuild reads four times as fast as with pages of 500, and keeps what a page leaves unfinished.
    private const int PageOfRebuild = 10_000;
    private const int KeptOfRebuild = 20_000;

    /// <summary>Only events of that kind are read at all.</summary>
    public static void Prepare<TEvent>(ProjectionBase projection)
    {
        projection.Options.BatchSize = PageOfRebuild;
        projection.Options.CacheLimitPerTenant = KeptOfRebuild;

        foreach (var type in typeof(TEvent).Assembly.GetTypes().Where(
            type => !type.IsAbstract && type.IsAssignableTo(typeof(TEvent))))
        {
            projection.IncludeType(type);
        }
    }
}
