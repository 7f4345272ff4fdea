namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>What came of the trials, release by release.</summary>
/// <param name="Ready">For each release, trial after trial: when it is ready, in the hours of the model's pattern.
/// </param>
/// <param name="Published">The same for its publication; where nothing is said of that, when it is ready.</param>
internal sealed record TrialOutcomes(double[][] Ready, double[][] Published, int Trials)
{
    /// <summary>So many trials are run in one go: their numbers stay in the processor's cache.</summary>
    private const int OfPart = 500;

    /// <summary>Runs them in parts; each trial has a stream of random numbers of its own.</summary>
    /// <param name="clock">For the usual pace; null for the others.</param>
    public static TrialOutcomes Run(TrialModel model, ElapsedClock? clock, ulong seed, int trials, RunParts run)
    {
        var ready = Columns(model.Open.Count, trials);
        var published = clock is null ? ready : Columns(model.Open.Count, trials);
        run((trials + OfPart - 1) / OfPart, part =>
        {
            var (first, count) = (part * OfPart, Math.Min(OfPart, trials - (part * OfPart)));
            var rows = new double[count * model.Open.Count];
            if (clock is null)
            {
                model.Run(seed, first, rows);
                Turn(rows, ready, first);
                return;
            }

            var publishedRows = new double[rows.Length];
            model.RunAtUsualPace(seed, first, rows, publishedRows, clock);
            Turn(rows, ready, first);
            Turn(publishedRows, published, first);
        });

        return new(ready, published, trials);
    }

    private static double[][] Columns(int releases, int trials) =>
        [.. Enumerable.Range(0, releases).Select(_ => new double[trials])];

    private static void Turn(double[] rows, double[][] columns, int first)
    {
        for (var release = 0; release < columns.Length; release++)
        {
            var column = columns[release];
            for (var (at, trial) = (release, first); at < rows.Length; at += columns.Length)
            {
                column[trial++] = rows[at];
            }
        }
    }
}
