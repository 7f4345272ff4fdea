using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>Three guesses at the work of a stage, in working hours.</summary>
/// <param name="Stage">The key of the stage.</param>
/// <param name="Optimistic">If all goes well; not negative.</param>
/// <param name="Likely">Most often; optimistic ≤ likely ≤ pessimistic.</param>
/// <param name="Pessimistic">If much goes wrong.</param>
public sealed record StageGuess(string Stage, double Optimistic, double Likely, double Pessimistic)
{
    /// <summary>
    /// What was guessed of a stage in its plan: three points, or the effort alone, which is then taken for certain.
    /// Null when nobody guessed. The publication is an act: without a guess it takes nothing.
    /// </summary>
    public static StageGuess? Of(PlannedStage stage) => stage switch
    {
        { LeastEffort: { } least, Effort: { } likely, MostEffort: { } most } =>
            new(stage.Key, least.TotalHours, likely.TotalHours, most.TotalHours),
        { Effort: { } effort } => new(stage.Key, effort.TotalHours, effort.TotalHours, effort.TotalHours),
        { Publication: true } => new(stage.Key, 0, 0, 0),
        _ => null,
    };

    /// <summary>The work that is exceeded with probability 1 - share by a triangular law over the guesses.</summary>
    /// <param name="share">0 to 1.</param>
    public double HoursAt(double share)
    {
        var (a, m, b) = (Optimistic, Likely, Pessimistic);
        return share * (b - a) < m - a
            ? a + Math.Sqrt(share * (b - a) * (m - a))
            : b - Math.Sqrt((1 - share) * (b - a) * (b - m));
    }
}
