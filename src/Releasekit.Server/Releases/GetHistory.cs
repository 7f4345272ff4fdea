using System.Text.Json;
using System.Text.Json.Nodes;
using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>GET /v1/releases/{id}/history: everything that was recorded of a release.</summary>
internal static class GetHistory
{
    public static void Map(IEndpointRouteBuilder releases) => releases
        .MapGet("/{id:guid}/history", Handle)
        .WithName("getHistory")
        .WithSummary("Read the history of a release")
        .WithDescription("Every event in the order it was recorded; nothing is ever rewritten.")
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<HistoryEntryBody>>> Handle(
        Guid id, [AsParameters] PageQuery page, Caller caller, HttpContext http, IDocumentStore store,
        CancellationToken cancel)
    {
        if (page.Read<long>(http.Request, out var after) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var events = await ReleaseEventsOf.Load(session, id, cancel);
        var rest = events.Where(e => e.Sequence > after).Take(page.Size + 1).ToArray();

        return events.Count == 0
            ? Problems.NotFound("release of that id")
            : page.Page(
                http,
                rest,
                e => HistoryEntryBody.Of(e.Sequence, e.Event, e.Event.OccurredAt, e.Event.RecordedAt),
                e => e.Sequence);
    }
}

/// <param name="Sequence">Counts from 1 in this history; of a release, names a transition when it is amended.</param>
/// <param name="Event">What happened, e.g. StageCompleted.</param>
/// <param name="OccurredAt">When it happened, as it was told.</param>
/// <param name="RecordedAt">When it was told.</param>
/// <param name="Details">What else is known, by kind of event.</param>
internal sealed record HistoryEntryBody(
    long Sequence, string Event, Instant OccurredAt, Instant RecordedAt, JsonObject Details)
{
    /// <summary>What the entry, or the address of the history, says already.</summary>
    private static readonly string[] Told = ["occurredAt", "recordedAt", "release", "project"];

    public static HistoryEntryBody Of(long sequence, object happened, Instant occurredAt, Instant recordedAt)
    {
        var details = JsonSerializer.SerializeToNode(happened, happened.GetType(), ApiJson.Options)!.AsObject();

        foreach (var told in Told)
        {
            details.Remove(told);
        }

        return new(sequence, happened.GetType().Name, occurredAt, recordedAt, details);
    }
}
