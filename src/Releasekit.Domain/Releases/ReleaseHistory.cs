namespace Releasekit.Domain.Releases;

/// <summary>An event with its number in its release.</summary>
/// <param name="Sequence">Counts from 1.</param>
public readonly record struct Recorded(long Sequence, ReleaseEvent Event);

/// <summary>
/// A release as of a past moment, in both meanings of it. Events come in the order they were recorded.
/// </summary>
public static class ReleaseHistory
{
    /// <summary>The release as it is known from all <paramref name="events"/>; null when there are none.</summary>
    public static Release? Now(IEnumerable<Recorded> events) =>
        events.Aggregate((Release?)null, (release, e) => Release.Evolve(release, e.Sequence, e.Event));

    /// <summary>
    /// What was known at <paramref name="at"/>: what had been recorded by then; null when nothing had.
    /// </summary>
    public static Release? AsKnownThen(IEnumerable<Recorded> events, Instant at) =>
        Now(events.TakeWhile(e => e.Event.RecordedAt <= at));

    /// <summary>
    /// What was so at <paramref name="at"/>, as we know now: what had happened by then, amendments applied; null when
    /// the release did not exist yet. A stage's transitions count from when the release got the stage: one that a later
    /// plan brought cannot have been done before, however early it is said to have been.
    /// </summary>
    public static Release? AsKnownNow(IReadOnlyList<Recorded> events, Instant at)
    {
        if (events.Count == 0 || events[0].Event.OccurredAt > at)
        {
            return null;
        }

        var amended = events
            .Select(e => e.Event)
            .OfType<TransitionAmended>()
            .GroupBy(e => e.Transition)
            .ToDictionary(group => group.Key, group => group.Last().Becomes);

        var told = events
            .Where(e => e.Event is not TransitionAmended)
            .Select(e => amended.TryGetValue(e.Sequence, out var becomes)
                ? e with { Event = e.Event with { OccurredAt = becomes } }
                : e);

        return Now(WhenTheyCount(told)
            .Where(e => e.CountsFrom <= at)
            .OrderBy(e => e.CountsFrom)
            .ThenBy(e => e.Told.Sequence)
            .Select(e => e.Told));
    }

    private static IEnumerable<(Recorded Told, Instant CountsFrom)> WhenTheyCount(IEnumerable<Recorded> events)
    {
        var began = Instant.MinValue;
        var stages = new Dictionary<(string Key, bool Publication), Instant>();

        foreach (var e in events)
        {
            var countsFrom = Instant.Max(began, e.Event.OccurredAt);

            switch (e.Event)
            {
                case ReleasePlanned planned:
                    began = countsFrom = planned.OccurredAt;
                    stages = Since(stages, planned.Stages, began);
                    break;
                case StagePlanAdopted adopted:
                    stages = Since(stages, adopted.Stages, countsFrom);
                    break;
                case var other when StageOf(other) is { } stage:
                    var since = stages.Where(known => known.Key.Key == stage).Select(known => known.Value);
                    countsFrom = since.Append(countsFrom).Max();
                    break;
            }

            yield return (e, countsFrom);
        }
    }

    private static Dictionary<(string Key, bool Publication), Instant> Since(
        Dictionary<(string Key, bool Publication), Instant> before, IEnumerable<PlannedStage> stages, Instant at) =>
        stages
            .Select(stage => (stage.Key, stage.Publication))
            .ToDictionary(stage => stage, stage => before.GetValueOrDefault(stage, at));

    private static string? StageOf(ReleaseEvent happened) => happened switch
    {
        StageStarted e => e.Stage,
        StageCompleted e => e.Stage,
        StageSkipped e => e.Stage,
        StageReopened e => e.Stage,
        StageBlocked e => e.Stage,
        StageUnblocked e => e.Stage,
        ChecklistItemTicked e => e.Stage,
        ChecklistItemUnticked e => e.Stage,
        _ => null,
    };
}
