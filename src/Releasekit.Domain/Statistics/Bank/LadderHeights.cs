namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// By how much a walk of steps X = work - slot passes its height so far, each time it does (up), or comes back to it or
/// below (down): 1 - X(z) = (1 - up(z)) (1 - down(1/z)), solved in turn from nothing, so that all terms are positive
/// (Grassmann and Jain 1989, from memory). The greatest height of the walk is the wait of an order in the long run.
/// </summary>
internal sealed class LadderHeights
{
    // Coming back down is certain; what is lacking is how far from settled the two are.
    private const double Settled = 1e-13;

    // Products, some tenths of a second; more are needed only where hardly any time is left from work to slot.
    private const double Most = 3e8;

    private readonly double[] _up;
    private readonly double[] _down;
    private readonly double _never;

    private LadderHeights(double[] up, double[] down, double room)
    {
        // 1 less the sum of up, without the cancelling: the mean of X is -(1 - Σ up) · mean of down.
        (_up, _down) = (up, down);
        _never = room / Mean(down);
    }

    /// <summary>The mean of the greatest height, in steps.</summary>
    public double MeanOfGreatest => Mean(_up) / _never;

    /// <summary>The heights of that walk; null when it does not fall in the long run, or too slowly.</summary>
    public static LadderHeights? Of(WorkSteps work, int slotSteps)
    {
        if (work.Mean >= slotSteps)
        {
            return null;
        }

        var longest = Math.Max(0, work.Longest - slotSteps);
        var deepest = slotSteps - work.Shortest;
        var (above, below) = (new double[longest + 1], new double[deepest + 1]);
        foreach (var (steps, share) in work.Law)
        {
            (steps > slotSteps ? above : below)[Math.Abs(steps - slotSteps)] += share;
        }

        var (up, down) = (new double[longest + 1], new double[deepest + 1]);
        var round = (1.0 + Math.Min(longest, deepest)) * (2.0 + longest + deepest);
        for (var spent = 0.0; spent < Most; spent += round)
        {
            Fall(below, up, down);
            Rise(above, up, down);
            if (1 - down.Sum() < Settled)
            {
                return new(up, down, slotSteps - work.Mean);
            }
        }

        return null;
    }

    /// <summary>The probabilities that the greatest height is 0, 1, … steps.</summary>
    public double[] Greatest(int highest)
    {
        var heights = new double[highest + 1];
        heights[0] = _never;
        for (var height = 1; height <= highest; height++)
        {
            for (var rise = Math.Min(height, _up.Length - 1); rise > 0; rise--)
            {
                heights[height] += _up[rise] * heights[height - rise];
            }
        }

        return heights;
    }

    /// <summary>down(j) = X(-j) + Σ up(i) down(i + j), from the deepest.</summary>
    private static void Fall(double[] below, double[] up, double[] down)
    {
        for (var j = down.Length - 1; j >= 0; j--)
        {
            var sum = below[j];
            for (var i = Math.Min(up.Length, down.Length - j) - 1; i > 0; i--)
            {
                sum += up[i] * down[i + j];
            }

            down[j] = sum;
        }
    }

    /// <summary>up(i) (1 - down(0)) = X(i) + Σ up(i + j) down(j), from the highest.</summary>
    private static void Rise(double[] above, double[] up, double[] down)
    {
        for (var i = up.Length - 1; i > 0; i--)
        {
            var sum = above[i];
            for (var j = Math.Min(down.Length, up.Length - i) - 1; j > 0; j--)
            {
                sum += up[i + j] * down[j];
            }

            up[i] = sum / (1 - down[0]);
        }
    }

    private static double Mean(double[] shares) => shares.Select((share, steps) => share * steps).Sum();
}
