using System.Text.Json;
using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Projects;

/// <summary>GET /v1/projects: projects in the order they were proposed or by rank, filtered.</summary>
internal static class ListProjects
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapGet("/", Handle)
        .WithName("listProjects")
        .WithSummary("List projects")
        .WithDescription("""
            In the order they were entered, or with "sort=rank" the highest rank first: "state=candidate&sort=rank" is
            the list of what could come next. "q" looks at the title.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<ProjectBody>>> Handle(
        [AsParameters] ProjectFilter filter, [AsParameters] PageQuery page,
        Caller caller, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (page.Read<ProjectPosition>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        if (filter.Read(out var state) is { } unknown)
        {
            return unknown;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var publisher = (await session.LoadAsync<Publisher>(caller.Publisher, cancel))!;
        var found = await filter.Apply(session.Query<Project>(), state, after)
            .Take(page.Size + 1)
            .ToListAsync(cancel);
        var now = clock.Now;

        return page.Page(
            http,
            found,
            project => ProjectBody.Of(project, publisher, now),
            project => new ProjectPosition(project.Rank, project.Id));
    }
}

/// <summary>Where a page ends.</summary>
internal sealed record ProjectPosition(int Rank, Guid Id);

/// <param name="State">candidate, started, finished or dropped.</param>
/// <param name="Rank">1, 2 or 3.</param>
/// <param name="Q">Part of the title, in any case.</param>
/// <param name="Sort">rank: the highest first.</param>
internal sealed record ProjectFilter(
    [property: FromQuery(Name = "state")] string? State = null,
    [property: FromQuery(Name = "rank")] int? Rank = null,
    [property: FromQuery(Name = "q")] string? Q = null,
    [property: FromQuery(Name = "sort")] string? Sort = null)
{
    private static readonly Dictionary<string, ProjectState> States = Enum.GetValues<ProjectState>()
        .ToDictionary(state => JsonNamingPolicy.SnakeCaseLower.ConvertName(state.ToString()));

    private bool IsByRank => Sort is not null;

    public Problem? Read(out ProjectState? state)
    {
        state = State is not null && States.TryGetValue(State, out var known) ? known : null;

        return this switch
        {
            { State: not null } when state is null => Wrong("state", string.Join(", ", States.Keys)),
            { Rank: < 1 or > 3 } => Wrong("rank", "1, 2 or 3"),
            { Sort: not (null or "rank") } => Wrong("sort", "rank"),
            _ => null,
        };
    }

    /// <param name="after">Where the page before ended; null for the first.</param>
    public IQueryable<Project> Apply(IQueryable<Project> projects, ProjectState? state, ProjectPosition? after)
    {
        var filtered = projects;

        if (state is { } wanted)
        {
            filtered = filtered.Where(project => project.State == wanted);
        }

        if (Rank is { } rank)
        {
            filtered = filtered.Where(project => project.Rank == rank);
        }

        if (Q is { Length: > 0 } text)
        {
            filtered = filtered.Where(project => project.Title.Contains(text, StringComparison.OrdinalIgnoreCase));
        }

        if (after is { } last)
        {
            filtered = IsByRank
                ? filtered.Where(project => project.Rank < last.Rank
                    || (project.Rank == last.Rank && project.Id.CompareTo(last.Id) > 0))
                : filtered.Where(project => project.Id.CompareTo(last.Id) > 0);
        }

        return IsByRank
            ? filtered.OrderByDescending(project => project.Rank).ThenBy(project => project.Id)
            : filtered.OrderBy(project => project.Id);
    }

    private static Problem Wrong(string parameter, string right) => Problems.Of(
        "query-invalid", $"'{parameter}' takes {right}.", new ProblemError(parameter, $"Takes {right}."));
}
