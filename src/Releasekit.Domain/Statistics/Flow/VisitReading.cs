using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Statistics.Flow;

/// <summary>Turns the transitions of a stage into the times spent on it.</summary>
internal sealed class VisitReading
{
    private readonly List<StageVisit> _visits = [];
    private List<Interval> _blocked = [];
    private Instant? _from;
    private Instant? _blockedAt;

    /// <param name="isPublication">A reopened publication was a wrong tick: what it closed never was.</param>
    public static IReadOnlyList<StageVisit> Of(IReadOnlyList<StageTransition> transitions, bool isPublication)
    {
        var reading = new VisitReading();
        foreach (var transition in transitions)
        {
            reading.Read(transition, isPublication);
        }

        return reading.End();
    }

    private void Read(StageTransition transition, bool isPublication)
    {
        switch (transition.Kind)
        {
            case TransitionKind.Started:
                _from = transition.At;
                break;
            case TransitionKind.Blocked when _from is not null:
                _blockedAt = transition.At;
                break;
            case TransitionKind.Unblocked:
                EndBlock(transition.At);
                break;
            case TransitionKind.Completed:
            case TransitionKind.Skipped when _from is not null:
                EndBlock(transition.At);
                _visits.Add(new(_from, transition.At, _blocked));
                (_from, _blocked) = (null, []);
                break;
            case TransitionKind.Reopened when isPublication:
                _visits.Clear();
                break;
        }
    }

    private void EndBlock(Instant at)
    {
        if (_blockedAt is { } since)
        {
            _blocked.Add(new Interval(since, at));
            _blockedAt = null;
        }
    }

    private List<StageVisit> End()
    {
        if (_from is not null)
        {
            _visits.Add(new(_from, null, _blockedAt is { } since ? [.. _blocked, new(since, null)] : _blocked));
        }

        return _visits;
    }
}
