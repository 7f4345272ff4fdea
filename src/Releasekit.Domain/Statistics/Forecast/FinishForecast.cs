namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>By when something is done with a probability.</summary>
/// <param name="Percent">The probability, whole per cent.</param>
/// <param name="WorkingHours">
/// From now; the smallest value that so many trials do not exceed (type 1); null when the calendar has too little time
/// for years.
/// </param>
/// <param name="At">UTC, when the work ends; null when the calendar has too little time for years.</param>
/// <param name="Caution">
/// Why the date may not be called safe: with so few past releases nothing longer can be excluded, or it rests on
/// guesses as there are too few. Null when the past bears it.
/// </param>
public sealed record FinishPercentile(int Percent, double? WorkingHours, Instant? At, Lack? Caution);

/// <summary>When a release is ready to be published.</summary>
/// <param name="Release">Its id.</param>
/// <param name="SlotAt">When it is promised, UTC; null without a slot.</param>
/// <param name="Met">
/// The probability that it meets its slot: at the usual pace that it is published by the slot and its grace, included,
/// otherwise that it is ready by then; 0 once that has passed; null without a slot.
/// </param>
/// <param name="Finish">50, 70, 85 and 95 %.</param>
/// <param name="IsOutlasting">
/// Whether a stage has taken longer than anything known: then the forecast knows nothing of what is left of it.
/// </param>
/// <param name="Basis">What was drawn from; guesses are to be named as such.</param>
/// <param name="Past">How many past releases there are, also where they are too few to be drawn from.</param>
public sealed record ReleaseForecast(
    Guid Release,
    Instant? SlotAt,
    Chance? Met,
    IReadOnlyList<FinishPercentile> Finish,
    bool IsOutlasting,
    ForecastBasis Basis,
    int Past);

/// <summary>How many releases are ready by a date.</summary>
/// <param name="AtLeast">By k, from 0: the probability that at least k are.</param>
public sealed record CountForecast(IReadOnlyList<Chance> AtLeast)
{
    /// <summary>The most releases that are ready with at least that probability: the lower tail of the count.</summary>
    /// <param name="percent">Whole, above 0, at most 100.</param>
    public int With(int percent) =>
        AtLeast.Count - 1 - AtLeast.Reverse().TakeWhile(chance => !IsEnough(chance, percent)).Count();

    // Whole numbers decide, as a share of trials misses a whole per cent by a rounding.
    private static bool IsEnough(Chance chance, int percent) =>
        (long)Math.Round(chance.Value * chance.Trials) * 100 >= (long)chance.Trials * percent;
}
