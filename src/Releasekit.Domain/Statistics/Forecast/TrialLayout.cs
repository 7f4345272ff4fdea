using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// The laws of the work ahead as plain numbers: each release is one or more parts, each part a list of equally likely
/// working hours.
/// </summary>
internal sealed class TrialLayout
{
    private readonly WorkPattern _pattern;
    private readonly HashSet<Guid> _outlasting = [];
    private readonly Dictionary<(WorkLaw, string), (int From, int Count)> _notBegun = [];

    private TrialLayout(WorkPattern pattern) => _pattern = pattern;

    public List<double> Values { get; } = [];

    /// <summary>For each value the usual pace of the same past release; nothing where none is told.</summary>
    public List<PastPace> Paces { get; } = [];

    /// <summary>Where each part lies in the values. What is not begun is the same for many, and stands there once.
    /// </summary>
    public List<(int From, int Count)> Parts { get; } = [];

    /// <summary>Where each release begins in the parts, and where the last one ends.</summary>
    public List<int> Releases { get; } = [0];

    /// <summary>For each part the parts of its release that it follows, counted from the release's first.</summary>
    public List<int[]> After { get; } = [];

    public IReadOnlyCollection<Guid> Outlasting => _outlasting;

    public static TrialLayout Of(IEnumerable<LawfulRelease> open, WorkPattern pattern)
    {
        var layout = new TrialLayout(pattern);
        foreach (var one in open)
        {
            layout.Add(one.Release, one.Law, pattern is WorkPattern.UsualPace ? one.Pace?.Rows : null);
        }

        return layout;
    }

    private void Add(OpenRelease release, WorkLaw law, IReadOnlyList<PastPace>? pace)
    {
        var stages = ActivityOrder.Of(
            release.Stages,
            stage => stage.Key,
            stage => [.. stage.After.Where(key => release.Stages.Any(other => other.Key == key))],
            out var fault) ?? throw new ArgumentException(fault, nameof(release));
        int[] columns = [.. stages.Select(stage => law.IndexOf(stage.Key))];
        int[][] after = [.. stages.Select(stage => stages
            .Select((other, index) => (other.Key, Index: index))
            .Where(other => stage.After.Contains(other.Key))
            .Select(other => other.Index)
            .ToArray())];

        if (law.Basis is ForecastBasis.PastReleases)
        {
            if (stages.Count > 0)
            {
                AddPart(
                    pace is null ? law : null, stages, columns,
                    WholeReleases(law, release, stages, columns, after, pace), []);
            }
        }
        else
        {
            for (var i = 0; i < stages.Count; i++)
            {
                AddPart(
                    law, [stages[i]], [columns[i]],
                    Remaining(release, stages[i], law.Samples[columns[i]]).Select(hours => (hours, default(PastPace))),
                    after[i]);
            }
        }

        Releases.Add(After.Count);
    }

    /// <param name="shared">The law, where all that is not begun draws the same; null where it does not.</param>
    private void AddPart(
        WorkLaw? shared, IEnumerable<StageAhead> stages, int[] columns, IEnumerable<(double, PastPace)> values,
        int[] after)
    {
        After.Add(after);
        (WorkLaw, string)? name = shared is null || stages.Any(stage => stage.DoneHours > 0)
            ? null
            : (shared, string.Join(' ', columns));
        if (name is { } asked && _notBegun.TryGetValue(asked, out var known))
        {
            Parts.Add(known);
            return;
        }

        var from = Values.Count;
        foreach (var (hours, pace) in values)
        {
            Values.Add(hours);
            Paces.Add(pace);
        }

        Parts.Add((from, Values.Count - from));
        if (name is { } first)
        {
            _notBegun[first] = Parts[^1];
        }
    }

    /// <summary>
    /// What is left of each past release that took longer in all that was begun, and was not ready sooner than now.
    /// </summary>
    private IEnumerable<(double, PastPace)> WholeReleases(
        WorkLaw law, OpenRelease release, IReadOnlyList<StageAhead> stages, int[] columns, int[][] after,
        IReadOnlyList<PastPace>? pace)
    {
        int[] all = [.. Enumerable.Range(0, law.Samples.Length)];
        int[] longer =
        [
            .. all.Where(row => stages.Index().All(stage =>
                IsBeyond(law.Samples[row][columns[stage.Index]], stage.Item.DoneHours))),
        ];
        var isOutlasting = longer.Length == 0;
        int[] rows = isOutlasting ? all : longer;
        int[] paced = [.. rows.Where(row => pace is not null && !double.IsNaN(pace[row].Hours))];
        if (isOutlasting || (pace is not null && paced.Length == 0))
        {
            _outlasting.Add(release.Release);
        }

        return (paced.Length > 0 ? paced : rows).Select(row =>
        {
            double[] left =
            [
                .. stages.Select((stage, i) => law.Samples[row][columns[i]] - (isOutlasting ? 0 : stage.DoneHours)),
            ];
            return (
                _pattern is WorkPattern.SideBySide ? LongestPath(left, after) : left.Sum(),
                paced.Length > 0 ? pace![row] : default);
        });
    }

    private IEnumerable<double> Remaining(OpenRelease release, StageAhead stage, double[] samples)
    {
        double[] longer = [.. samples.Where(hours => IsBeyond(hours, stage.DoneHours))];
        if (longer.Length > 0)
        {
            return longer.Select(hours => hours - stage.DoneHours);
        }

        _outlasting.Add(release.Release);
        return samples;
    }

    private static bool IsBeyond(double hours, double done) => done == 0 || hours > done;

    private static double LongestPath(double[] lengths, int[][] after)
    {
        var done = new double[lengths.Length];
        for (var i = 0; i < lengths.Length; i++)
        {
            done[i] = lengths[i] + after[i].Select(before => done[before]).DefaultIfEmpty().Max();
        }

        return done.DefaultIfEmpty().Max();
    }
}
