namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// How far a simulated share may lie from the exact one: the binomial standard error √(p(1 - p)/N). It says nothing of
/// how few past releases there are, which weighs far more.
/// </summary>
public static class SimulationError
{
    private const double Z = 1.959963984540054;

    /// <summary>The standard error of a share, 0 to 1, of that many trials.</summary>
    public static double Of(double share, int trials) => Math.Sqrt(share * (1 - share) / trials);

    /// <summary>The fewest trials whose 95 % interval reaches no further than that to each side.</summary>
    /// <param name="halfWidth">Of the share, above 0.</param>
    public static int TrialsFor(double share, double halfWidth) =>
        (int)Math.Ceiling(Z * Z * share * (1 - share) / (halfWidth * halfWidth));
}

/// <summary>A simulated probability.</summary>
/// <param name="Value">0 to 1.</param>
/// <param name="StandardError">Of the simulation.</param>
/// <param name="Trials">How many it was counted in.</param>
public sealed record Chance(double Value, double StandardError, int Trials)
{
    /// <summary>The share of so many trials, at least one.</summary>
    public static Chance Of(int count, int trials) =>
        new((double)count / trials, SimulationError.Of((double)count / trials, trials), trials);
}
