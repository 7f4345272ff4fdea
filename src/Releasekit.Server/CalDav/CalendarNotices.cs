using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.CalDav;

/// <summary>What a calendar app wrote and we could not take: apps show no refusals, so it stands here.</summary>
/// <param name="Id">Grows with time.</param>
/// <param name="At">UTC.</param>
/// <param name="Calendar">The key of the calendar it was written to.</param>
/// <param name="What">What it was about.</param>
/// <param name="Type">The kind of problem: the address that explains it.</param>
/// <param name="Why">What is wrong and what would be right.</param>
internal sealed record CalendarNotice(Guid Id, Instant At, string Calendar, string What, string Type, string Why);

/// <summary>Keeps and lists them.</summary>
internal sealed class CalendarNotices(IDocumentStore store, ServiceClock clock)
{
    private const int MostShown = 100;

    public async Task Keep(string publisher, ItemPlace item, Problem problem, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(publisher);
        session.Insert(new CalendarNotice(
            NewIds.Next(), clock.Now, item.Calendar.Collection.Key, item.Stored.Uid, problem.Type, problem.Detail));
        await session.SaveChangesAsync(cancel);
    }

    public static void Map(IEndpointRouteBuilder api) => api
        .MapGet("/calendar-notices", List)
        .WithTags("Feeds")
        .WithName("listCalendarNotices")
        .WithSummary("List what calendar apps wrote in vain")
        .WithDescription("""
            A calendar app that ticks what cannot be ticked is answered as if all were well, and shown the old state
            again: most would otherwise ask for the password, or stop. What it was about stands here, newest first, the
            last hundred.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<CalendarNoticesBody>> List(
        Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);

        return new CalendarNoticesBody(
            await session.Query<CalendarNotice>().OrderByDescending(notice => notice.Id).Take(MostShown)
                .ToListAsync(cancel));
    }
}

/// <param name="Items">Newest first.</param>
internal sealed record CalendarNoticesBody(IReadOnlyList<CalendarNotice> Items);
