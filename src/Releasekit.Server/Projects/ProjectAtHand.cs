using Releasekit.Domain;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Projects;

/// <summary>A project that a request is deciding on, with its publisher, at one instant.</summary>
internal sealed record ProjectAtHand(Stream<Project, ProjectEvent> Stream, Publisher Publisher, Instant Now)
{
    public Project State => Stream.State;

    /// <summary>As GET shows it.</summary>
    public ProjectBody Show() => ProjectBody.Of(State, Publisher, Now);

    /// <summary>Appends what was decided; the problem when it was refused.</summary>
    public Problem? Append(Decision<ProjectEvent> decision) => Stream.Append(decision) switch
    {
        null => null,
        // A step is part of the address, so a missing one is not found.
        { Code: "step.unknown" } unknown => Problems.Of(unknown.Code, unknown.Reason),
        { } refusal => Problems.Of(refusal),
    };
}

/// <summary>What the slices of one project share: found, its ETag compared, decided, shown.</summary>
internal sealed class ProjectWrites(Ledger ledger, ServiceClock clock)
{
    /// <param name="request">Whose If-Match is needed; null where none is asked for.</param>
    /// <param name="decide">The problem, or null when all was appended.</param>
    public Task<Answer<ProjectBody>> Change(
        Caller caller, Guid id, HttpRequest? request, Func<ProjectAtHand, Problem?> decide, CancellationToken cancel) =>
        ledger.Write<ProjectBody>(
            caller.Publisher,
            async unit =>
            {
                if (await Find(unit, id) is not { } project)
                {
                    return Problems.NotFound("project of that id");
                }

                var stale = request is null ? null : ETags.CheckIfMatch(request, project.Show());

                return (stale ?? decide(project)) is { } problem ? problem : project.Show();
            },
            cancel);

    /// <summary>Null when the publisher has none of that id.</summary>
    public async Task<ProjectAtHand?> Find(UnitOfWork unit, Guid id) => await unit.Project(id) is { } stream
        ? new(stream, await unit.Publisher(), clock.Now)
        : null;
}
