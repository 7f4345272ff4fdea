namespace Releasekit.Domain.Statistics.Bank;

/// <summary>Long-run figures of a finite Markov chain.</summary>
public static class MarkovChain
{
    /// <summary>
    /// The shares of time in each state, by state reduction: sums and quotients of what is positive, so that nothing
    /// cancels out (Grassmann, Taksar and Heyman 1985, from memory).
    /// </summary>
    /// <param name="transitions">
    /// Row by row, each summing to 1. States that state 0 never comes to get the share 0; state 0 can be come back to.
    /// </param>
    public static double[] Stationary(IReadOnlyList<IReadOnlyList<double>> transitions)
    {
        var n = transitions.Count;
        double[][] chain = [.. transitions.Select(row => row.ToArray())];
        for (var last = n - 1; last > 0; last--)
        {
            var leaving = chain[last].Take(last).Sum();
            for (var from = 0; from < last && leaving > 0; from++)
            {
                chain[from][last] /= leaving;
                for (var to = 0; to < last; to++)
                {
                    chain[from][to] += chain[from][last] * chain[last][to];
                }
            }
        }

        var shares = new double[n];
        shares[0] = 1;
        for (var state = 1; state < n; state++)
        {
            for (var from = 0; from < state; from++)
            {
                shares[state] += shares[from] * chain[from][state];
            }
        }

        var sum = shares.Sum();
        return [.. shares.Select(share => share / sum)];
    }

    /// <summary>
    /// How many steps it takes on average to come to a state, from each other one; 0 from that state itself. Endless
    /// where it is never come to.
    /// </summary>
    public static double[] MeanStepsTo(IReadOnlyList<IReadOnlyList<double>> transitions, int goal)
    {
        int[] others = [.. Enumerable.Range(0, transitions.Count).Where(state => state != goal)];
        var n = others.Length;

        // (I - Q) m = 1 over the other states, by elimination with the largest pivot.
        double[][] rows =
        [
            .. others.Select(from => others
                .Select(to => (from == to ? 1 : 0) - transitions[from][to]).Append(1.0).ToArray()),
        ];
        for (var column = 0; column < n; column++)
        {
            var pivot = Enumerable.Range(column, n - column).MaxBy(row => Math.Abs(rows[row][column]));
            (rows[column], rows[pivot]) = (rows[pivot], rows[column]);
            for (var row = 0; row < n; row++)
            {
                var factor = row == column ? 0 : rows[row][column] / rows[column][column];
                for (var at = column; at <= n && factor != 0; at++)
                {
                    rows[row][at] -= factor * rows[column][at];
                }
            }
        }

        var steps = new double[transitions.Count];
        for (var i = 0; i < n; i++)
        {
            steps[others[i]] = rows[i][n] / rows[i][i];
        }

        return steps;
    }
}
