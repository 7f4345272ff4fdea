using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;

namespace Releasekit.Server.Work;

/// <summary>GET /v1/tasks: by the day they begin.</summary>
internal static class ListTasks
{
    public static void Map(IEndpointRouteBuilder tasks, TaskKind kind) => tasks
        .MapGet("/", (
            [AsParameters] TaskFilter filter, [AsParameters] EntryQuery common, [AsParameters] PageQuery page,
            Caller caller, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel) =>
            Handle(kind, filter, common, page, caller, http, store, clock, cancel))
        .WithName("listTasks")
        .WithSummary("List tasks")
        .WithDescription("""
            By the first day of the period they were planned for. "from" (included) and "to" (excluded) choose those
            whose period has a day in the window; a window that holds today also shows what was carried over to it.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<TaskBody>>> Handle(
        TaskKind kind, TaskFilter filter, EntryQuery common, PageQuery page, Caller caller, HttpContext http,
        IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if ((page.Read<TaskPosition>(http.Request, out var after) ?? filter.Check()) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await EntryScene.Load(session, clock.Now, cancel);
        var tasks = filter.Apply(common.Apply(session.Query<PlannedTask>(), clock.Now), scene);

        if (after is { First: var first, Id: var id })
        {
            tasks = tasks.Where(task =>
                task.When.First > first || (task.When.First == first && task.Id.CompareTo(id) > 0));
        }

        var found = await tasks
            .OrderBy(task => task.When.First)
            .ThenBy(task => task.Id)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        return page.Page(
            http, found, task => kind.Show(task, scene), task => new TaskPosition(task.When.First, task.Id));
    }

    private sealed record TaskPosition(LocalDate First, Guid Id);
}

/// <param name="From">Included.</param>
/// <param name="To">Excluded.</param>
/// <param name="Done">True: only done ones; false: only open ones.</param>
/// <param name="Sphere">work or personal.</param>
/// <param name="Important">True: only important ones; false: only the others.</param>
/// <param name="Recurrence">Those of one recurrence.</param>
/// <param name="Q">Part of the title, in any case.</param>
internal sealed record TaskFilter(
    [property: FromQuery(Name = "from")] DateParameter? From = null,
    [property: FromQuery(Name = "to")] DateParameter? To = null,
    [property: FromQuery(Name = "done")] bool? Done = null,
    [property: FromQuery(Name = "sphere")] string? Sphere = null,
    [property: FromQuery(Name = "important")] bool? Important = null,
    [property: FromQuery(Name = "recurrence")] Guid? Recurrence = null,
    [property: FromQuery(Name = "q")] string? Q = null) : IEntryFilter<PlannedTask>
{
    public Problem? Check() => (From, To) is ({ } from, { } to) && to.Value < from.Value
        ? Problems.Of("query-invalid", "'to' lies before 'from'.", new ProblemError("to", "Before 'from'."))
        : SphereParameter.Check(Sphere);

    public IQueryable<PlannedTask> Apply(IQueryable<PlannedTask> entries, EntryScene scene)
    {
        var tasks = InWindow(entries, scene.Today);

        if (Done is { } done)
        {
            tasks = done
                ? tasks.Where(task => task.CompletedAt != null)
                : tasks.Where(task => task.CompletedAt == null);
        }

        if (SphereParameter.Read(Sphere) is { } sphere)
        {
            tasks = tasks.Where(task => task.Sphere == sphere);
        }

        if (Important is { } important)
        {
            tasks = tasks.Where(task => task.IsImportant == important);
        }

        if (Recurrence is { } recurrence)
        {
            tasks = tasks.Where(task => task.Recurrence == recurrence);
        }

        return Q is { Length: > 0 } text
            ? tasks.Where(task => task.Title.Contains(text, StringComparison.OrdinalIgnoreCase))
            : tasks;
    }

    private IQueryable<PlannedTask> InWindow(IQueryable<PlannedTask> tasks, LocalDate today)
    {
        if (To?.Value is { } to)
        {
            tasks = tasks.Where(task => task.When.First < to);
        }

        if (From?.Value is not { } from)
        {
            return tasks;
        }

        return from <= today && (To is null || today < To.Value.Value)
            ? tasks.Where(task => task.LastDay >= from || task.CompletedAt == null)
            : tasks.Where(task => task.LastDay >= from);
    }
}

/// <summary>work or personal, in a query.</summary>
internal static class SphereParameter
{
    public static Problem? Check(string? text) => text is null || Read(text) is not null
        ? null
        : Problems.Of(
            "query-invalid", "'sphere' takes work or personal.", new ProblemError("sphere", "Unknown."));

    public static Sphere? Read(string? text) => text switch
    {
        "work" => Sphere.Work,
        "personal" => Sphere.Personal,
        _ => null,
    };
}
