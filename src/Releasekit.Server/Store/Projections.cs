using JasperFx.Events;
using Marten.Events.Aggregation;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Store;

/// <summary>Keeps each release's current state as a document, with the domain's own fold.</summary>
internal sealed class ReleaseProjection : SingleStreamProjection<Release, Guid>
{
    public override Release? Evolve(Release? snapshot, Guid id, IEvent e) =>
        e.Data is ReleaseEvent happened ? Release.Evolve(snapshot, e.Version, happened) : snapshot;
}

/// <summary>Keeps each series' current state as a document, with the domain's own fold.</summary>
internal sealed class SeriesProjection : SingleStreamProjection<Series, Guid>
{
    public override Series? Evolve(Series? snapshot, Guid id, IEvent e) =>
        e.Data is SeriesEvent happened ? Series.Evolve(snapshot, e.Version, happened) : snapshot;
}

/// <summary>Keeps each project's current state as a document, with the domain's own fold.</summary>
internal sealed class ProjectProjection : SingleStreamProjection<Project, Guid>
{
    public override Project? Evolve(Project? snapshot, Guid id, IEvent e) =>
        e.Data is ProjectEvent happened ? Project.Evolve(snapshot, e.Version, happened) : snapshot;
}
