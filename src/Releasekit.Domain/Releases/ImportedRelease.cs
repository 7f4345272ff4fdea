namespace Releasekit.Domain.Releases;

/// <summary>What a row of a file tells of a release.</summary>
/// <param name="Title">One line.</param>
/// <param name="Slot">The slot it was for, by its original local date; null when none is told.</param>
/// <param name="Stages">What is known of its stages, the publication among them; stages left out are unknown.</param>
public sealed record ImportedRelease(
    string? ExternalId, string Title, LocalDate? Slot, IReadOnlyList<ImportedStage> Stages)
{
    /// <summary>The earliest instant that is told, UTC: when the release began to exist; null when none is.</summary>
    public Instant? EarliestAt => Stages
        .SelectMany(stage => new[] { stage.StartedAt, stage.CompletedAt })
        .Min();

    /// <summary>
    /// The events that tell this history, in the order it happened, decided by
    /// the same rules as if they had been told one by one, but for strict predecessors: strictness holds for
    /// transitions asked of us, a history is what happened. Refuses what those rules refuse.
    /// </summary>
    public Decision<ReleaseEvent> Decide(Guid id, string series, StagePlan plan, Instant now)
    {
        var planned = ReleaseDecider.Plan(id, series, Title, plan, Slot, ExternalId, EarliestAt ?? now, now);

        if (planned.Refusal is not null)
        {
            return planned;
        }

        List<ReleaseEvent> events = [.. planned];
        var release = events.Select((e, i) => new Recorded(i + 1, e)).Aggregate(
            (Release?)null, (state, e) => Release.Evolve(state, e.Sequence, e.Event))!;

        foreach (var (stage, to, at) in InOrder(plan))
        {
            var decision = StageDecider.Recount(release, stage, to, at, now);

            if (decision.Refusal is not null)
            {
                return decision;
            }

            foreach (var e in decision)
            {
                events.Add(e);
                release = Release.Evolve(release, events.Count, e);
            }
        }

        return Decision.Accept<ReleaseEvent>([.. events]);
    }

    private IEnumerable<(string Stage, StageState To, Instant At)> InOrder(StagePlan plan)
    {
        var order = plan.Stages.Select((stage, i) => (stage.Key, i)).ToDictionary(pair => pair.Key, pair => pair.i);

        return Stages
            .SelectMany(stage => new[]
            {
                (stage.Stage, To: StageState.Started, At: stage.StartedAt),
                (stage.Stage, To: StageState.Completed, At: stage.CompletedAt),
            })
            .Where(deed => deed.At is not null)
            .OrderBy(deed => deed.At)
            .ThenBy(deed => order.GetValueOrDefault(deed.Stage))
            .ThenBy(deed => deed.To)
            .Select(deed => (deed.Stage, deed.To, deed.At!.Value));
    }
}

/// <summary>What a row tells of a stage, UTC; null for what it does not.</summary>
public sealed record ImportedStage(string Stage, Instant? StartedAt, Instant? CompletedAt);
