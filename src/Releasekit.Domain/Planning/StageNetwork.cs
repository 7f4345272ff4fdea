using System.Diagnostics;
using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Planning;

/// <summary>
/// Open stages as a network on the work clock (working time from now on, negative before now), and its times read back
/// as instants: a start at the next working instant, a finish at the one before.
/// </summary>
internal sealed class StageNetwork
{
    /// <summary>The due of what has none, and half of it: longer than any work reckoned with.</summary>
    private static readonly Duration Never = Duration.FromDays(1_000_000);
    private static readonly Duration NeverDue = Never / 2;

    private readonly WorkingCalendar _calendar;
    private readonly Instant _now;
    private readonly Func<Stage, Instant?> _due;
    private readonly Func<Stage, Instant?> _begin;
    private readonly IReadOnlyList<Stage> _stages;
    private readonly Dictionary<string, ActivityTimes> _times;
    private readonly bool _isInReach;

    /// <param name="due">When a stage must be done, UTC; null when nobody asks for it.</param>
    /// <param name="begin">When it can begin at the earliest, UTC; null when that never comes.</param>
    public StageNetwork(
        IReadOnlyList<Stage> stages,
        WorkingCalendar calendar,
        Instant now,
        Func<Stage, Instant?> due,
        Func<Stage, Instant?> begin)
    {
        (_stages, _calendar, _now, _due, _begin) = (stages, calendar, now, due, begin);
        _isInReach = stages.All(stage => PositionOf(begin(stage)) is not null);

        var keys = stages.Select(stage => stage.Plan.Key).ToHashSet();
        var path = CriticalPath.TryFind(
            [
                .. stages.Select(stage => new Activity(
                    stage.Plan.Key, Efforts.Reckoned(stage.Plan.Effort), [.. stage.Plan.After.Where(keys.Contains)])
                {
                    NotBefore = Duration.Max(Duration.Zero, PositionOf(begin(stage)) ?? Duration.Zero),
                    Due = PositionOf(due(stage)) ?? Never,
                }),
            ], out var fault) ?? throw new UnreachableException(fault);

        _times = path.Activities.ToDictionary(times => times.Key);
    }

    /// <summary>
    /// When the stage is done at the earliest; null when it is not in the network or never within reach.
    /// </summary>
    public Instant? FinishOf(Stage stage)
    {
        if (!_isInReach || !_times.TryGetValue(stage.Plan.Key, out var times))
        {
            return null;
        }

        var finish = InstantOf(times.EarliestFinish);

        // Work cannot be done outside working time, but what takes none can happen then: a publication at seven.
        return IsMoment(stage) && finish is not null ? Instant.Max(finish.Value, _begin(stage)!.Value) : finish;
    }

    public IEnumerable<StageSchedule> Schedules() => _stages.Select(Schedule);

    private StageSchedule Schedule(Stage stage)
    {
        var times = _times[stage.Plan.Key];
        var isAsked = times.LatestFinish < NeverDue;
        var isStarted = stage.Mark is StageMark.Started || StageRules.WasStartedBeforeBlock(stage);
        var latestFinish = isAsked ? LatestFinishOf(stage, times) : null;
        var latestStart = isAsked && !IsMoment(stage) ? StartOf(times.LatestStart) : latestFinish;

        return new StageSchedule(
            stage.Plan.Key,
            Efforts.Reckoned(stage.Plan.Effort),
            stage.Plan.Effort is null,
            isStarted,
            IsMoment(stage) ? FinishOf(stage) : _isInReach ? StartOf(times.EarliestStart) : null,
            FinishOf(stage),
            latestStart,
            latestFinish,
            isAsked && _isInReach ? times.TotalFloat : null,
            times.FreeFloat < NeverDue && _isInReach ? times.FreeFloat : null,
            times.IsCritical,
            isAsked && !isStarted && (latestStart is null || latestStart < _now));
    }

    private Instant? LatestFinishOf(Stage stage, ActivityTimes times)
    {
        var isMadeAtDesk = !IsMoment(stage) || !(stage.Plan.Publication || stage.Plan.Within is not null);
        var due = _due(stage);

        return !isMadeAtDesk && times.LatestFinish == PositionOf(due)
            ? due
            : InstantOf(times.LatestFinish) is { } finish ? _calendar.PreviousWorkingInstant(finish) : null;
    }

    private static bool IsMoment(Stage stage) => Efforts.Reckoned(stage.Plan.Effort) == Duration.Zero;

    private Duration? PositionOf(Instant? at) => at is null ? null : _calendar.Between(_now, at.Value);

    private Instant? StartOf(Duration position) =>
        InstantOf(position) is { } at ? _calendar.NextWorkingInstant(at) : null;

    private Instant? InstantOf(Duration position) => position < Duration.Zero
        ? _calendar.Subtract(_now, -position)
        : _calendar.Add(_now, position);
}
