using Releasekit.Client.Releases;

namespace Releasekit.Client.Learning;

/// <summary>The open releases of a series: when they are ready, and with what probability.</summary>
/// <param name="Slots">Of the window; without a chance where nobody holds them.</param>
/// <param name="WhenReady">When the first, the first two, and so on, are ready.</param>
/// <param name="NotForecast">Of which nothing can be said.</param>
public sealed record SeriesForecast(
    Instant At, int Trials, int Seed, IReadOnlyList<ReleaseForecast> Releases, IReadOnlyList<SlotForecast> Slots,
    ReadyBy? ReadyBy, IReadOnlyList<WhenReady> WhenReady, IReadOnlyList<NotForecast> NotForecast, string Caution);

/// <summary>One release.</summary>
/// <param name="Forecast">Null when nothing can be said, or nothing is left to be said.</param>
public sealed record OneForecast(
    Instant At, ReleaseState State, int Trials, int Seed, ReleaseForecast? Forecast, NotForecast? NotForecast,
    string Caution);

/// <summary>When a release is ready.</summary>
/// <param name="Met">That it meets its slot, if it goes on as past releases did.</param>
/// <param name="Nonstop">The same if every working hour from now on goes into the open releases.</param>
/// <param name="Basis">past_releases or guesses.</param>
public sealed record ReleaseForecast(
    Guid Id, string Title, string Series, LocalDate? Slot, Instant? SlotAt, Chance? Met,
    IReadOnlyList<FinishPercentile> Finish, Nonstop Nonstop, string Basis, int Past, int LeftOut, int StartsTaken,
    bool Outlasting, string Says);

/// <summary>What is possible at best.</summary>
public sealed record Nonstop(Chance? Met, IReadOnlyList<FinishPercentile> Finish);

/// <summary>By when something is ready with a probability.</summary>
/// <param name="Caution">Why the date may not be called safe; null when the past bears it.</param>
public sealed record FinishPercentile(int Percent, double? WorkingHours, Instant? At, string? Caution);

/// <summary>A slot that is owed.</summary>
public sealed record SlotForecast(LocalDate Date, Instant At, Guid? Release, Chance? Met);

/// <summary>How many are ready by a date.</summary>
public sealed record ReadyBy(LocalDate By, IReadOnlyList<Chance> AtLeast, int With85, int With50);

/// <summary>By when so many are ready.</summary>
public sealed record WhenReady(int Count, IReadOnlyList<FinishPercentile> Finish);

/// <summary>An open release of which nothing can be said.</summary>
/// <param name="WithoutGuess">Stages ahead without an effort.</param>
public sealed record NotForecast(
    Guid Release, string Title, int Past, int LeftOut, IReadOnlyList<string> WithoutGuess);

/// <summary>Whether the forecasts were right.</summary>
/// <param name="Kept">How many were kept for slots of the window.</param>
public sealed record Calibration(
    LocalDate From, LocalDate To, Instant At, int Kept, IReadOnlyList<LeadCalibration> ByLead);

/// <summary>So many days before the slot.</summary>
public sealed record LeadCalibration(
    int LeadDays, CalibrationFigures Met, int NotYetScored, IReadOnlyList<DateHits> Dates);

/// <summary>Brier score with its parts, and the table of what was told against what came.</summary>
public sealed record CalibrationFigures(
    int N, double? Rate, double? Score, double? Reliability, double? Resolution, double? Uncertainty,
    double? WithinVariance, double? WithinCovariance, double? Skill, string? SkillMissing,
    IReadOnlyList<ReliabilityRow> Table);

/// <summary>What was told, and how often it came true.</summary>
public sealed record ReliabilityRow(double MeanForecast, Share Observed);

/// <summary>How often releases were ready by the date told at that per cent.</summary>
public sealed record DateHits(int Percent, Figure Hit);
