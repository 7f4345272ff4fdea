using JasperFx.Events;
using Marten;
using Releasekit.Domain;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;

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

    /// <summary>A project to decide on; null when the publisher has none of that id.</summary>
    public Task<Stream<Project, ProjectEvent>?> Project(Guid id) =>
        Load<Project, ProjectEvent>(id, Domain.Work.Project.Evolve, isExclusive: false);

    /// <summary>The publisher that this is done for.</summary>
    public async Task<Publisher> Publisher() => await session.LoadAsync<Publisher>(session.TenantId, cancel)
        ?? throw new InvalidOperationException($"Publisher {session.TenantId} has a token but is not there.");

    /// <summary>
    /// Waits until nobody else of this publisher is doing <paramref name="what"/>; others wait until this is saved or
    /// given up. For what is counted over many streams. Asked for before anything is read.
    /// </summary>
    public async Task OneAtATime(string what)
    {
        await session.BeginTransactionAsync(cancel);
        await using var wait = Sql.Command(
            "select pg_advisory_xact_lock(hashtextextended($1, 0))", $"{what} {session.TenantId}");
        await using var waited = await session.ExecuteReaderAsync(wait, cancel);
    }

    /// <summary>Writes reminders into the publisher's log; what is raised together stands together.</summary>
    public void Remind(IReadOnlyList<ReminderRaised> reminders) =>
        session.Events.StartStream(NewIds.Next(), reminders);

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

    /// <summary>Begins a project's stream.</summary>
    public Project Begin(Guid id, IReadOnlyList<ProjectEvent> events)
    {
        session.Events.StartStream<Project>(id, events);
        return events.Select((e, i) => (Sequence: i + 1L, Event: e))
            .Aggregate((Project?)null, (state, e) => Domain.Work.Project.Evolve(state, e.Sequence, e.Event))!;
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
