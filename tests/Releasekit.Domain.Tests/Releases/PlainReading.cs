using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Tests.Releases;

/// <summary>
/// A second, plain reading of a release's events, one variable for each thing, to compare the state with. It shares
/// nothing with <see cref="Release.Evolve"/> but the events.
/// </summary>
internal sealed class PlainReading
{
    private readonly Dictionary<string, StageState?> _marks = [];
    private readonly Dictionary<string, StageState?> _beforeBlock = [];
    private readonly Dictionary<string, Instant> _completedAt = [];
    private IReadOnlyList<PlannedStage> _plan = [];
    private bool _isDropped;

    public PlainReading(IReadOnlyList<ReleaseEvent> events)
    {
        var amended = events.OfType<TransitionAmended>().ToLookup(e => e.Transition, e => (Instant?)e.Becomes);

        foreach (var (i, e) in events.Index())
        {
            Read(e, amended[i + 1].LastOrDefault() ?? e.OccurredAt);
        }
    }

    public LocalDate? Slot { get; private set; }

    public string? Url { get; private set; }

    public Instant? PublishedAt =>
        _completedAt.TryGetValue(Publication, out var at) && _marks[Publication] is StageState.Completed ? at : null;

    public ReleaseState State
    {
        get
        {
            var isStarted = _plan.Any(stage => _marks[stage.Key] is not null);
            var making = _plan.Where(stage => stage.Key != Publication && !Follows(stage)).ToArray();
            var isMade = making.Length > 0 && making.All(IsDone);

            return _isDropped ? ReleaseState.Dropped
                : PublishedAt is not null && _plan.Where(Follows).All(IsDone) ? ReleaseState.Closed
                : PublishedAt is not null ? ReleaseState.Published
                : isMade ? ReleaseState.Finished
                : isStarted ? ReleaseState.InProgress
                : ReleaseState.Planned;
        }
    }

    public IEnumerable<string> Stages => _plan.Select(stage => $"{stage.Key} {StateOf(stage)}");

    public IEnumerable<string> OpenStages => _isDropped ? [] : _plan
        .Where(stage => StateOf(stage) is StageState.Ready or StageState.Started or StageState.Blocked)
        .Select(stage => stage.Key);

    private string Publication => _plan.Single(stage => stage.Publication).Key;

    private StageState StateOf(PlannedStage stage) => _marks[stage.Key]
        ?? (_plan.Any(other => stage.After.Contains(other.Key) && !IsDone(other))
            ? StageState.Waiting : StageState.Ready);

    private bool IsDone(PlannedStage stage) => _marks[stage.Key] is StageState.Completed or StageState.Skipped;

    private bool Follows(PlannedStage stage) => stage.After.Any(before =>
        before == Publication || _plan.Any(other => other.Key == before && Follows(other)));

    private void Read(ReleaseEvent happened, Instant at)
    {
        switch (happened)
        {
            case ReleasePlanned e: Follow(e.Stages); break;
            case StagePlanAdopted e: Follow(e.Stages); break;
            case SlotAssigned e: Slot = e.Slot; break;
            case SlotUnassigned: Slot = null; break;
            case ReleaseDropped: _isDropped = true; break;
            case ReleaseRestored: _isDropped = false; break;
            case StageStarted e: _marks[e.Stage] = StageState.Started; break;
            case StageSkipped e: _marks[e.Stage] = StageState.Skipped; break;
            case StageUnblocked e: _marks[e.Stage] = _beforeBlock[e.Stage]; break;
            case StageBlocked e:
                _beforeBlock[e.Stage] = _marks[e.Stage];
                _marks[e.Stage] = StageState.Blocked;
                break;
            case StageCompleted e:
                _marks[e.Stage] = StageState.Completed;
                _completedAt[e.Stage] = at;
                Url = e.Publication ? e.Url ?? Url : Url;
                break;
            case StageReopened e:
                _marks[e.Stage] = null;
                Url = e.Publication ? null : Url;
                break;
        }
    }

    private void Follow(IReadOnlyList<PlannedStage> plan)
    {
        _plan = plan;

        foreach (var gone in _marks.Keys.Except(plan.Select(stage => stage.Key)).ToArray())
        {
            _marks.Remove(gone);
        }

        foreach (var stage in plan)
        {
            _marks.TryAdd(stage.Key, null);
        }
    }
}
