using System.Text.Json;
using System.Text.Json.Nodes;
using JasperFx.Events;
using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Work;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Events;

/// <summary>
/// Puts recorded events into the envelopes they are told in, each with the state it left: what a release was called
/// then, and where it stood.
/// </summary>
internal sealed class Telling(IQuerySession session, CancellationToken cancel)
{
    private readonly Dictionary<Guid, IReadOnlyList<Recorded>> _releases = [];
    private readonly Dictionary<Guid, IReadOnlyList<(long Sequence, ProjectEvent Event)>> _projects = [];

    /// <summary>What an event is told as, in order; empty for what concerns nobody else.</summary>
    public async Task<IReadOnlyList<EnvelopeBody>> Tell(IEvent stored) => stored.Data switch
    {
        ReleaseEvent happened => await Tell(stored, happened),
        ProjectEvent happened when Messages.TypeOf(happened) is { } type =>
            [Wrap(stored, type, happened.OccurredAt, happened.RecordedAt, Messages.DataOf(await ProjectAfter(stored)))],
        ReminderRaised raised =>
            [Wrap(stored, Messages.TypeOf(raised.Type), raised.OccurredAt, raised.RecordedAt, Messages.DataOf(raised))],
        _ => [],
    };

    private async Task<IReadOnlyList<EnvelopeBody>> Tell(IEvent stored, ReleaseEvent happened)
    {
        var (before, after) = await ReleaseAround(stored);

        return
        [
            .. Messages.TypesOf(happened, before, after).Select(type =>
                Wrap(stored, type, happened.OccurredAt, happened.RecordedAt, Messages.DataOf(happened, after))),
        ];
    }

    private async Task<(Release? Before, Release After)> ReleaseAround(IEvent stored)
    {
        if (!_releases.TryGetValue(stored.StreamId, out var history))
        {
            _releases[stored.StreamId] = history = await ReleaseEventsOf.Load(session, stored.StreamId, cancel);
        }

        var before = history.TakeWhile(e => e.Sequence < stored.Version)
            .Aggregate((Release?)null, (state, e) => Release.Evolve(state, e.Sequence, e.Event));

        return (before, Release.Evolve(before, stored.Version, (ReleaseEvent)stored.Data));
    }

    private async Task<Project> ProjectAfter(IEvent stored)
    {
        if (!_projects.TryGetValue(stored.StreamId, out var history))
        {
            _projects[stored.StreamId] = history = await ProjectEventsOf.Load(session, stored.StreamId, cancel);
        }

        return history.TakeWhile(e => e.Sequence <= stored.Version)
            .Aggregate((Project?)null, (state, e) => Project.Evolve(state, e.Sequence, e.Event))!;
    }

    private static EnvelopeBody Wrap(
        IEvent stored, string type, Instant occurredAt, Instant recordedAt, JsonObject data) =>
        EnvelopeBody.Of(stored.Id, stored.Version, Origin.Of(stored), type, occurredAt, recordedAt, data);
}

/// <param name="Id">The same however often it is told: the event and the type, full stops written as _.</param>
/// <param name="Type">What happened, such as stage.completed.</param>
/// <param name="Timestamp">When it was recorded, UTC.</param>
/// <param name="Data">
/// What it is about: release, series, stage, slot, task or project as it concerns them; occurredAt; sequence, the
/// number in that history; origin, where it was imported, restored or made for the demo.
/// </param>
internal sealed record EnvelopeBody(string Id, string Type, Instant Timestamp, JsonObject Data)
{
    /// <summary>Puts what an event says into its envelope.</summary>
    /// <param name="recorded">The id of the recorded event.</param>
    /// <param name="sequence">Its number in its history.</param>
    /// <param name="data">Completed here.</param>
    public static EnvelopeBody Of(
        Guid recorded, long sequence, string? origin, string type, Instant occurredAt, Instant recordedAt,
        JsonObject data)
    {
        data["occurredAt"] = JsonSerializer.SerializeToNode(occurredAt, ApiJson.Options);
        data["sequence"] = sequence;

        if (origin is not null)
        {
            data["origin"] = origin;
        }

        return new($"msg_{recorded:N}_{type.Replace('.', '_')}", type, recordedAt, data);
    }
}
