using JasperFx.Events;
using Marten;
using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;

namespace Releasekit.Server.Store;

/// <summary>What one request reads and changes, saved together by the <see cref="Ledger"/>.</summary>
internal sealed class UnitOfWork(IDocumentSession session, CancellationToken cancel)
{
    private readonly Dictionary<Guid, object> _streams = [];

    /// <summary>Documents, read and written in the same transaction.</summary>
    public IDocumentSession Documents => session;

    /// <summary>
    /// A release to decide on; null when the publisher has none of that id. The same one however often it is asked for.
    /// </summary>
    public Task<Stream<Release, ReleaseEvent>?> Release(Guid id) =>
        Load<Release, ReleaseEvent>(id, Domain.Releases.Release.Evolve, isExclusive: false);

    /// <summary>A series to decide on.</summary>
    public Task<Stream<Series, SeriesEvent>?> Series(string slug) =>
        Load<Series, SeriesEvent>(StreamIds.OfSeries(slug), Domain.Schedule.Series.Evolve, isExclusive: false);

    /// <summary>A series that nobody else can change, or give a slot of, until this is saved.</summary>
    public Task<Stream<Series, SeriesEvent>?> SeriesExclusively(string slug) =>
        Load<Series, SeriesEvent>(StreamIds.OfSeries(slug), Domain.Schedule.Series.Evolve, isExclusive: true);

    /// <summary>Begins a release's stream.</summary>
    public Release Begin(Guid id, IReadOnlyList<ReleaseEvent> events)
    {
        session.Events.StartStream<Release>(id, events);
        return events.Select((e, i) => new Recorded(i + 1, e))
            .Aggregate((Release?)null, (state, e) => Domain.Releases.Release.Evolve(state, e.Sequence, e.Event))!;
    }

    /// <summary>Begins a series' stream.</summary>
    public Series Begin(Guid id, IReadOnlyList<SeriesEvent> events)
    {
        session.Events.StartStream<Series>(id, events);
        return events.Select((e, i) => (Sequence: i + 1L, Event: e))
            .Aggregate((Series?)null, (state, e) => Domain.Schedule.Series.Evolve(state, e.Sequence, e.Event))!;
    }

    private async Task<Stream<TState, TEvent>?> Load<TState, TEvent>(
        Guid id, Func<TState?, long, TEvent, TState> evolve, bool isExclusive)
        where TState : class
        where TEvent : class
    {
        if (_streams.TryGetValue(id, out var known))
        {
            return (Stream<TState, TEvent>)known;
        }

        var stored = isExclusive
            ? await session.Events.FetchForExclusiveWriting<TState>(id, cancel)
            : await session.Events.FetchForWriting<TState>(id, cancel);

        if (stored.Aggregate is not { } state)
        {
            return null;
        }

        var stream = new Stream<TState, TEvent>(stored, state, evolve);
        _streams.Add(id, stream);
        return stream;
    }
}

/// <summary>A stream that is being decided on: its state follows the events appended to it.</summary>
internal sealed class Stream<TState, TEvent>(
    IEventStream<TState> stored, TState state, Func<TState?, long, TEvent, TState> evolve)
    where TState : class
    where TEvent : class
{
    private long _sequence = stored.CurrentVersion ?? 0;

    /// <summary>The state after all that was appended so far.</summary>
    public TState State { get; private set; } = state;

    /// <summary>Appends what was decided; the refusal when it was refused.</summary>
    public Refusal? Append(Decision<TEvent> decision)
    {
        if (decision.Refusal is { } refusal)
        {
            return refusal;
        }

        foreach (var e in decision)
        {
            stored.AppendOne(e);
            State = evolve(State, ++_sequence, e);
        }

        return null;
    }
}
