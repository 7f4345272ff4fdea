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
        foreach (var (release, law) in open)
        {
            layout.Add(release, law);
        }

        return layout;
    }

    private void Add(OpenRelease release, WorkLaw law)
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
                AddPart(law, stages, columns, WholeReleases(law, release, stages, columns, after), []);
            }
        }
        else
        {
            for (var i = 0; i < stages.Count; i++)
            {
                AddPart(
                    law, [stages[i]], [columns[i]], Remaining(release, stages[i], law.Samples[columns[i]]), after[i]);
            }
        }

        Releases.Add(After.Count);
    }

    private void AddPart(
        WorkLaw law, IEnumerable<StageAhead> stages, int[] columns, IEnumerable<double> values, int[] after)
    {
        After.Add(after);
        var name = (law, string.Join(' ', columns));
        var isBegun = stages.Any(stage => stage.DoneHours > 0);
        if (!isBegun && _notBegun.TryGetValue(name, out var known))
        {
            Parts.Add(known);
            return;
        }

        var from = Values.Count;
        Values.AddRange(values);
        Parts.Add((from, Values.Count - from));
        if (!isBegun)
        {
            _notBegun[name] = Parts[^1];
        }
    }

    /// <summary>What is left of each past release that took longer in all that was begun.</summary>
    private IEnumerable<double> WholeReleases(
        WorkLaw law, OpenRelease release, IReadOnlyList<StageAhead> stages, int[] columns, int[][] after)
    {
        double[][] longer = [.. law.Samples.Where(row =>
            stages.Index().All(stage => IsBeyond(row[columns[stage.Index]], stage.Item.DoneHours)))];
        var isOutlasting = longer.Length == 0;
        if (isOutlasting)
        {
            _outlasting.Add(release.Release);
        }

        return (isOutlasting ? law.Samples : longer).Select(row =>
        {
            double[] left =
            [
                .. stages.Select((stage, i) => row[columns[i]] - (isOutlasting ? 0 : stage.DoneHours)),
            ];
            return _pattern is WorkPattern.OnePerson ? left.Sum() : LongestPath(left, after);
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
