using System.Numerics;

namespace Releasekit.Domain.Statistics.Flow;

/// <summary>How long one was followed.</summary>
/// <param name="Time">From its start, in any unit; not negative.</param>
/// <param name="IsFinished">Whether it ended then; otherwise it was still open and is not followed further.</param>
public readonly record struct FollowedTime(double Time, bool IsFinished);

/// <summary>The curve at a time at which something finished.</summary>
/// <param name="Time">In the unit of the followed times.</param>
/// <param name="AtRisk">Open just before.</param>
/// <param name="Finished">Finished then.</param>
/// <param name="Open">S(t): the share, 0 to 1, that takes longer.</param>
/// <param name="StandardError">Greenwood's, of the share; 0 once none is left.</param>
/// <param name="Low">Lower end of the 95 % interval on the log-log scale; null when Open is 0.</param>
/// <param name="High">Upper end; null when Open is 0.</param>
public readonly record struct SurvivalStep(
    double Time, int AtRisk, int Finished, double Open, double StandardError, double? Low, double? High);

/// <summary>
/// Kaplan-Meier: how long things take when some are still open. S(t) = Π(1 - d/n); at a tied time finishes come before
/// those still open; Greenwood's error; intervals on the log-log scale (Kaplan and Meier 1958; Brookmeyer and Crowley
/// 1982 for percentiles).
/// </summary>
/// <param name="N">How many were followed.</param>
/// <param name="Steps">Where it falls, ascending in time; empty when nothing finished.</param>
/// <param name="LongestFollowed">The longest followed time; null without any.</param>
public sealed record SurvivalCurve(int N, IReadOnlyList<SurvivalStep> Steps, double? LongestFollowed)
{
    private const double Z = 1.959963984540054;
    private const double NearTie = 1e-9;

    /// <summary>The curve of these times, in any order.</summary>
    public static SurvivalCurve Of(IEnumerable<FollowedTime> followed)
    {
        FollowedTime[] times = [.. followed.OrderBy(one => one.Time)];
        List<SurvivalStep> steps = [];
        var (open, greenwood) = (1.0, 0.0);
        for (var first = 0; first < times.Length;)
        {
            var (next, finished) = (first, 0);
            for (; next < times.Length && times[next].Time == times[first].Time; next++)
            {
                finished += times[next].IsFinished ? 1 : 0;
            }

            if (finished > 0)
            {
                double atRisk = times.Length - first;
                open *= (atRisk - finished) / atRisk;
                greenwood += finished / (atRisk * (atRisk - finished));
                steps.Add(Step(times[first].Time, times.Length - first, finished, open, greenwood));
            }

            first = next;
        }

        return new(times.Length, steps, times.Length == 0 ? null : times[^1].Time);
    }

    /// <summary>
    /// The smallest time by which that per cent have finished, S(t) ≤ 1 - p, with the times between which the interval
    /// of the curve crosses it. Null while the curve stays above.
    /// </summary>
    /// <param name="percent">Whole, above 0, below 100.</param>
    public Figure At(int percent, FigureUnit unit)
    {
        if (N == 0)
        {
            return Figure.None(unit, 0, Lack.NothingCounted);
        }

        var still = (100 - percent) / 100.0;
        double? value = null, low = null, high = null;
        for (var i = 0; i < Steps.Count; i++)
        {
            low ??= Steps[i].Low <= still ? Steps[i].Time : null;
            value ??= IsDown(i, percent, still) ? Steps[i].Time : null;
            high ??= Steps[i].High <= still ? Steps[i].Time : null;
        }

        return Figure.Estimated(value, unit, N, low, high, Lack.NoFiniteBound, Lack.Censored);
    }

    /// <summary>The mean time, none counted longer than <paramref name="limit"/>: the area under the curve.</summary>
    public double MeanUpTo(double limit)
    {
        var (area, from, height) = (0.0, 0.0, 1.0);
        foreach (var step in Steps.Where(step => step.Time < limit))
        {
            area += height * (step.Time - from);
            (from, height) = (step.Time, step.Open);
        }

        return area + height * (limit - from);
    }

    private static SurvivalStep Step(double time, int atRisk, int finished, double open, double greenwood)
    {
        if (open == 0)
        {
            return new(time, atRisk, finished, 0, 0, null, null);
        }

        var half = Z * Math.Sqrt(greenwood) / Math.Abs(Math.Log(open));
        return new(
            time, atRisk, finished, open, open * Math.Sqrt(greenwood),
            Math.Pow(open, Math.Exp(half)), Math.Pow(open, Math.Exp(-half)));
    }

    // Products of shares miss an even half by a rounding; near a tie whole numbers decide.
    private bool IsDown(int step, int percent, double still)
    {
        if (Math.Abs(Steps[step].Open - still) > NearTie)
        {
            return Steps[step].Open < still;
        }

        var (open, all) = (BigInteger.One, BigInteger.One);
        foreach (var taken in Steps.Take(step + 1))
        {
            open *= taken.AtRisk - taken.Finished;
            all *= taken.AtRisk;
        }

        return open * 100 <= all * (100 - percent);
    }
}
