namespace Releasekit.Domain.Statistics.Flow;

/// <summary>Shares of time, with the interval of a ratio of sums.</summary>
internal static class FlowShares
{
    private const double Z = 1.959963984540054;

    /// <summary>Working over all time of these releases.</summary>
    public static Figure Efficiency(IEnumerable<TimeSplit> splits) =>
        Of([.. splits.Select(split => (split.TotalWorking, WholeOf(split)))]);

    /// <summary>
    /// Σ part / Σ whole. With e = part - share · whole, its variance is n / (n - 1) · Σ e² / (Σ whole)².
    /// </summary>
    public static Figure Of(IReadOnlyList<(double Part, double Whole)> times)
    {
        var whole = times.Sum(time => time.Whole);
        if (whole == 0)
        {
            return Figure.None(FigureUnit.Share, times.Count, Lack.NothingCounted);
        }

        var share = times.Sum(time => time.Part) / whole;
        if (times.Count < 2)
        {
            return Figure.Estimated(
                share, FigureUnit.Share, times.Count, null, null, Lack.FewerThanTwo, Lack.NothingCounted);
        }

        double n = times.Count;
        var errors = times.Sum(time => Math.Pow(time.Part - share * time.Whole, 2));
        var half = Z * Math.Sqrt(n / (n - 1) * errors) / whole;
        return Figure.Estimated(
            share, FigureUnit.Share, times.Count, Math.Max(0, share - half), Math.Min(1, share + half),
            Lack.NoFiniteBound, Lack.NothingCounted);
    }

    /// <summary>Working and waiting time, elapsed days.</summary>
    public static double WholeOf(TimeSplit split) => split.TotalWorking + split.TotalWaiting;
}

/// <summary>The time each stage takes.</summary>
public static class StageTimes
{
    /// <summary>
    /// The time of a stage, elapsed days: the sum of all visits, blocked time included; null when it was skipped, is
    /// still open, or was completed without a start.
    /// </summary>
    public static double? TimeOf(StageFacts stage)
    {
        if (stage.IsSkipped || stage.CompletedAt is null)
        {
            return null;
        }

        var ticks = 0L;
        foreach (var visit in stage.Visits)
        {
            if (visit is not { From: { } from, To: { } to })
            {
                return null;
            }

            ticks += to.ToUnixTimeTicks() - from.ToUnixTimeTicks();
        }

        return (double)ticks / NodaConstants.TicksPerDay;
    }

    /// <param name="published">The releases.</param>
    /// <param name="splits">Of each of them, null when its working time is unknown.</param>
    internal static IReadOnlyList<StageFlow> Of(ReleaseFacts[] published, TimeSplit?[] splits)
    {
        var found = new Dictionary<string, List<(StageFacts Facts, int Release, int Index)>>();
        for (var release = 0; release < published.Length; release++)
        {
            for (var index = 0; index < published[release].Stages.Count; index++)
            {
                var stage = published[release].Stages[index];
                if (!found.TryGetValue(stage.Key, out var same))
                {
                    found[stage.Key] = same = [];
                }

                same.Add((stage, release, index));
            }
        }

        var latest = published.MaxBy(one => one.PublishedAt)?.Stages.Select(stage => stage.Key) ?? [];
        return [.. latest.Concat(found.Keys).Distinct().Select(key => Of(key, found[key], splits))];
    }

    private static StageFlow Of(
        string key, List<(StageFacts Facts, int Release, int Index)> stages, TimeSplit?[] splits)
    {
        var index = new int[splits.Length];
        Array.Fill(index, -1);
        foreach (var stage in stages)
        {
            index[stage.Release] = stage.Index;
        }

        return new(
            key,
            Spread.Of(
                [.. stages.Select(stage => TimeOf(stage.Facts)).OfType<double>()], FigureUnit.ElapsedDays),
            stages.Count(stage => stage.Facts.IsSkipped),
            stages.Count(stage => stage.Facts.Visits.Any(visit => visit.From is null)),
            FlowShares.Of([.. Times((split, at) => split.Working[at])]),
            FlowShares.Of([.. Times((split, at) => split.Waiting[at])]));

        IEnumerable<(double, double)> Times(Func<TimeSplit, int, double> part) => splits
            .Select((split, release) => (Split: split, At: index[release]))
            .Where(one => one.Split is not null)
            .Select(one => (one.At < 0 ? 0 : part(one.Split!, one.At), FlowShares.WholeOf(one.Split!)));
    }
}
