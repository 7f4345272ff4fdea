namespace Releasekit.Domain.Releases;

/// <summary>An event with its number in its release.</summary>
/// <param name="Sequence">Counts from 1.</param>
public readonly record struct Recorded(long Sequence, ReleaseEvent Event);

/// <summary>A release as of a past moment, in both meanings of it. Events come in the order they were recorded.</summary>
public static class ReleaseHistory
{
    /// <summary>The release as it is known from all <paramref name="events"/>; null when there are none.</summary>
    public static Release? Now(IEnumerable<Recorded> events) =>
        events.Aggregate((Release?)null, (release, e) => Release.Evolve(release, e.Sequence, e.Event));

    /// <summary>What was known at <paramref name="at"/>: what had been recorded by then; null when nothing had.</summary>
    public static Release? AsKnownThen(IEnumerable<Recorded> events, Instant at) =>
        Now(events.Where(e => e.Event.RecordedAt <= at));

    /// <summary>
    /// What was so at <paramref name="at"/>, as we know now: what had happened by then, amendments applied; null when
    /// the release did not exist yet.
    /// </summary>
    public static Release? AsKnownNow(IReadOnlyList<Recorded> events, Instant at)
    {
        var amended = events
            .Select(e => e.Event)
            .OfType<TransitionAmended>()
            .GroupBy(e => e.Transition)
            .ToDictionary(group => group.Key, group => group.Last().Becomes);

        return Now(events
            .Where(e => e.Event is not TransitionAmended)
            .Select(e => amended.TryGetValue(e.Sequence, out var becomes)
                ? e with { Event = e.Event with { OccurredAt = becomes } }
                : e)
            .Where(e => e.Event.OccurredAt <= at)
            .OrderBy(e => e.Event.OccurredAt)
            .ThenBy(e => e.Sequence));
    }
}
