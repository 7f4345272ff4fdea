using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Releases;

/// <summary>GET /v1/releases: releases in the order they were planned, filtered.</summary>
internal static class ListReleases
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapGet("/", Handle)
        .WithName("listReleases")
        .WithSummary("List releases")
        .WithDescription("""
            In the order they were entered. "stage" keeps those where that stage is ready, started or blocked; "from"
            (included) and "to" (excluded) look at the slot's original local date, or at the UTC date of publication
            for a release without slot; "q" at the title.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<ReleaseBody>>> Handle(
        [AsParameters] ReleaseFilter filter, [AsParameters] PageQuery page,
        Caller caller, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (page.Read<Guid>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        if (filter.ReadState(out var state) is { } unknown)
        {
            return unknown;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var found = await filter.Apply(session.Query<Release>(), state)
            .Where(release => release.Id.CompareTo(after) > 0)
            .OrderBy(release => release.Id)
            .Take(page.Size + 1)
            .ToListAsync(cancel);

        var view = new ReleaseView(session, clock.Now, cancel);
        var shown = new Dictionary<Guid, ReleaseBody>();

        foreach (var release in found)
        {
            shown.Add(release.Id, await view.Show(release));
        }

        return page.Page(http, found, release => shown[release.Id], release => release.Id);
    }
}

/// <param name="Series">The series' id.</param>
/// <param name="State">planned, in_progress, finished, published, closed or dropped.</param>
/// <param name="Stage">A stage that is ready, started or blocked.</param>
/// <param name="From">Included.</param>
/// <param name="To">Excluded.</param>
/// <param name="Q">Part of the title, in any case.</param>
internal sealed record ReleaseFilter(
    [property: FromQuery(Name = "series")] string? Series = null,
    [property: FromQuery(Name = "state")] string? State = null,
    [property: FromQuery(Name = "stage")] string? Stage = null,
    [property: FromQuery(Name = "from")] DateParameter? From = null,
    [property: FromQuery(Name = "to")] DateParameter? To = null,
    [property: FromQuery(Name = "q")] string? Q = null)
{
    private static readonly Dictionary<string, ReleaseState> States = Enum.GetValues<ReleaseState>()
        .ToDictionary(state => System.Text.Json.JsonNamingPolicy.SnakeCaseLower.ConvertName(state.ToString()));

    public Problem? ReadState(out ReleaseState? state)
    {
        state = State is not null && States.TryGetValue(State, out var known) ? known : null;

        return State is null || state is not null
            ? null
            : Problems.Of(
                "query-invalid", $"'state' takes {string.Join(", ", States.Keys)}.",
                new ProblemError("state", "Unknown state."));
    }

    public IQueryable<Release> Apply(IQueryable<Release> releases, ReleaseState? state)
    {
        var filtered = releases;

        if (Series is { } series)
        {
            filtered = filtered.Where(release => release.Series == series);
        }

        if (state is { } wanted)
        {
            filtered = filtered.Where(release => release.State == wanted);
        }

        if (Stage is { } stage)
        {
            filtered = filtered.Where(release => release.OpenStages.Contains(stage));
        }

        if (From?.Value is { } from)
        {
            var since = from.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();
            filtered = filtered.Where(
                release => release.Slot >= from || (release.Slot == null && release.PublishedAt >= since));
        }

        if (To?.Value is { } to)
        {
            var until = to.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();
            filtered = filtered.Where(
                release => release.Slot < to || (release.Slot == null && release.PublishedAt < until));
        }

        return Q is { Length: > 0 } text
            ? filtered.Where(release => release.Title.Contains(text, StringComparison.OrdinalIgnoreCase))
            : filtered;
    }
}
