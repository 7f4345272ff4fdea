namespace Releasekit.Domain.Statistics.Chart;

/// <summary>Why the limits begin anew.</summary>
public enum RestartReason
{
    /// <summary>The first phase: nothing was changed.</summary>
    Beginning,

    /// <summary>The cadence of the series changed.</summary>
    Cadence,

    /// <summary>The releases follow another version of the stage plan.</summary>
    StagePlan,

    /// <summary>The publisher says that the way of working changed.</summary>
    Said,
}

/// <summary>An instant from which the way of working was another.</summary>
/// <param name="At">UTC; points published from it on, it included, belong to the new phase.</param>
public readonly record struct ChartRestart(Instant At, RestartReason Reason);

/// <summary>Points made in one way of working.</summary>
/// <param name="From">UTC; null for the first phase.</param>
/// <param name="Reason">Why it began.</param>
/// <param name="First">Index of its first point, counting from 0.</param>
/// <param name="Count">How many points; 0 when none came yet.</param>
/// <param name="Baseline">How many of its first points the limits rest on.</param>
/// <param name="IsFrozen">Whether the baseline is full: later points no longer change the limits.</param>
/// <param name="Limits">From the baseline.</param>
public sealed record ChartPhase(
    Instant? From, RestartReason Reason, int First, int Count, int Baseline, bool IsFrozen, NaturalLimits Limits);

/// <summary>
/// A process behaviour chart (XmR) of single values in the order of publication. Limits rest on the first points of a
/// phase and are frozen then; they are recomputed only where the way of working changed.
/// </summary>
/// <param name="Points">Ascending.</param>
/// <param name="Ranges">|value - value before| of each point; null for the first of a phase.</param>
/// <param name="Phases">In order, at least one.</param>
/// <param name="Signals">By index; none in a phase without a chart.</param>
public sealed record BehaviourChart(
    IReadOnlyList<ChartPoint> Points,
    IReadOnlyList<double?> Ranges,
    IReadOnlyList<ChartPhase> Phases,
    IReadOnlyList<Signal> Signals)
{
    /// <summary>How many points the limits rest on unless said otherwise (common practice, no source).</summary>
    public const int UsualBaseline = 20;

    /// <summary>The chart of these points.</summary>
    /// <param name="points">Ascending by publication.</param>
    /// <param name="restarts">
    /// Where the cadence changed, and where the publisher says so, in any order; changes of the stage plan are seen in
    /// the points.
    /// </param>
    /// <param name="baseline">How many first points of a phase the limits rest on; at least two.</param>
    /// <exception cref="ArgumentOutOfRangeException">The baseline is below two.</exception>
    public static BehaviourChart Of(
        IReadOnlyList<ChartPoint> points, IEnumerable<ChartRestart> restarts, int baseline = UsualBaseline)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(baseline, 2);
        double[] values = [.. points.Select(point => point.Value)];
        var phases = PhasesOf(points, values, restarts, baseline);
        double?[] ranges = [.. values.Select((value, i) => i == 0 ? (double?)null : Math.Abs(value - values[i - 1]))];
        foreach (var phase in phases.Where(phase => phase.Count > 0))
        {
            ranges[phase.First] = null;
        }

        return new(points, ranges, phases, [.. phases.SelectMany(phase => SignalsOf(phase, values, ranges))]);
    }

    private static List<ChartPhase> PhasesOf(
        IReadOnlyList<ChartPoint> points, double[] values, IEnumerable<ChartRestart> restarts, int baseline)
    {
        var starts = restarts
            .Concat(points.Skip(1).Zip(points)
                .Where(pair => pair.First.PlanVersion != pair.Second.PlanVersion)
                .Select(pair => new ChartRestart(pair.First.At, RestartReason.StagePlan)))
            .OrderBy(restart => restart.At)
            .DistinctBy(restart => restart.At)
            .ToArray();

        var phases = new List<ChartPhase>();
        var (first, from, reason) = (0, (Instant?)null, RestartReason.Beginning);
        foreach (var start in starts)
        {
            var next = first;
            while (next < points.Count && points[next].At < start.At)
            {
                next++;
            }

            Add(next);
            (first, from, reason) = (next, start.At, start.Reason);
        }

        Add(points.Count);
        return phases;

        void Add(int end)
        {
            var taken = Math.Min(end - first, baseline);
            var limits = NaturalLimits.Of(values[first..(first + taken)]);
            phases.Add(new(from, reason, first, end - first, taken, taken == baseline, limits));
        }
    }

    private static IEnumerable<Signal> SignalsOf(ChartPhase phase, double[] values, double?[] ranges)
    {
        if (phase.Limits is not { Missing: null, Mean: { } mean, Sigma: { } sigma, RangeLimit: { } limit })
        {
            return [];
        }

        var end = phase.First + phase.Count;
        return DetectionRules.Find(values[phase.First..end], mean, sigma)
            .Concat(DetectionRules.FindInRanges(ranges[phase.First..end], limit))
            .Select(signal => signal with { Index = signal.Index + phase.First })
            .OrderBy(signal => signal.Index);
    }
}
