using System.Globalization;
using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Events;

/// <summary>GET /v1/events: the publisher's log, to go on reading where one stopped.</summary>
internal static class ListEvents
{
    private const int Usual = 50;
    private const int Most = 200;

    /// <summary>So many recorded events are looked through at most for one answer.</summary>
    private const int MostPassedOver = 5_000;

    public static void Map(IEndpointRouteBuilder events) => events
        .MapGet("/", Handle)
        .WithName("listEvents")
        .WithSummary("Read the event log")
        .WithDescription("""
            Everything that is told to others, oldest first, reminders included. "after" takes the "last" of the answer
            before; ask again with it and nothing is passed over, even when several write at once. One recorded event
            may be told as two messages, and some as none; "limit" counts recorded events. Where nothing was asked for,
            the answer goes on to the next, through 5,000 at most: then it may be empty while "next" says there is more.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<EventsBody>> Handle(
        [FromQuery] string? after, [FromQuery] int? limit, [FromQuery] string? type, Caller caller,
        IDocumentStore store, EventLog log, CancellationToken cancel)
    {
        if (!TryReadAfter(after, out var position))
        {
            return Problems.Of(
                "cursor-invalid",
                "'after' takes the \"last\" or \"next\" of an answer of this list; begin without it.",
                new ProblemError("after", "Does not fit."));
        }

        if (FaultOf(limit, type) is { } fault)
        {
            return fault;
        }

        var settled = await log.SettledUpTo(position, cancel);
        await using var session = store.QuerySession(caller.Publisher);
        return await Read(session, position, settled, Math.Min(limit ?? Usual, Most), type, cancel);
    }

    /// <summary>Goes on where nothing of a page was asked for, so that a rare type is found with one request.</summary>
    private static async Task<EventsBody> Read(
        IQuerySession session, long after, long settled, int size, string? type, CancellationToken cancel)
    {
        var telling = new Telling(session, cancel);
        var items = new List<EnvelopeBody>();
        var hasMore = true;

        for (var read = 0; hasMore && items.Count == 0 && read < MostPassedOver; read += size)
        {
            var stored = await EventLog.Read(session, after, settled, size + 1, cancel);
            hasMore = stored.Count > size;

            foreach (var e in stored.Take(size))
            {
                items.AddRange((await telling.Tell(e)).Where(told => type is null || Matches(told.Type, type)));
                after = e.Sequence;
            }
        }

        return new EventsBody(items, hasMore ? Written(after) : null, Written(after));
    }

    private static Problem? FaultOf(int? limit, string? type)
    {
        if (limit < 1)
        {
            return Problems.Of(
                "query-invalid", "'limit' takes 1 to 200.", new ProblemError("limit", "Takes 1 to 200."));
        }

        return type is null || Messages.Types.Any(known => Matches(known, type))
            ? null
            : Problems.Of(
                "query-invalid",
                $"There is no type '{type}'; there are {string.Join(", ", Messages.Types)}, and groups such as "
                + "stage.*.",
                new ProblemError("type", "Unknown."));
    }

    private static bool TryReadAfter(string? after, out long position)
    {
        position = 0;
        return after is null
            || (long.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out position) && position >= 0);
    }

    private static bool Matches(string type, string asked) =>
        asked.EndsWith(".*", StringComparison.Ordinal)
            ? type.StartsWith(asked[..^1], StringComparison.Ordinal)
            : type == asked;

    private static string Written(long position) => position.ToString(CultureInfo.InvariantCulture);
}

/// <param name="Items">Oldest first.</param>
/// <param name="Next">What "after" takes for the next page; null when there is no more now.</param>
/// <param name="Last">What "after" takes to go on from here later; the same as it was when nothing came.</param>
internal sealed record EventsBody(IReadOnlyList<EnvelopeBody> Items, string? Next, string Last);
