using Refit;

namespace Releasekit.Client.Learning;

/// <summary>What is learnt from how the work went. Windows: from included, to excluded, local dates.</summary>
public interface ILearning
{
    /// <summary>How the work of a series flows.</summary>
    [Get("/v1/series/{series}/flow")]
    Task<IApiResponse<Flow>> Flow(
        string series, LocalDate? from = null, LocalDate? to = null, Instant? at = null,
        CancellationToken cancel = default);

    /// <summary>The behaviour chart.</summary>
    /// <param name="measure">cycle, lateness, or the key of a stage; cycle when left out.</param>
    /// <param name="restart">From then on the way of working was another.</param>
    [Get("/v1/series/{series}/chart")]
    Task<IApiResponse<Chart>> Chart(
        string series, string? measure = null, LocalDate? from = null, LocalDate? to = null, Instant? at = null,
        int? baseline = null, LocalDate? restart = null, CancellationToken cancel = default);

    /// <summary>When the open releases of a series are ready, and with what probability.</summary>
    /// <param name="by">How many are ready by the end of that date.</param>
    [Get("/v1/series/{series}/forecast")]
    Task<IApiResponse<SeriesForecast>> Forecast(
        string series, LocalDate? from = null, LocalDate? to = null, LocalDate? by = null, Instant? at = null,
        int? seed = null, int? trials = null, CancellationToken cancel = default);

    /// <summary>The same for one release.</summary>
    [Get("/v1/releases/{release}/forecast")]
    Task<IApiResponse<OneForecast>> Forecast(
        Guid release, Instant? at = null, int? seed = null, int? trials = null, CancellationToken cancel = default);

    /// <summary>Whether the forecasts were right.</summary>
    [Get("/v1/series/{series}/calibration")]
    Task<IApiResponse<Calibration>> Calibration(
        string series, LocalDate? from = null, LocalDate? to = null, Instant? at = null,
        CancellationToken cancel = default);

    /// <summary>How far today's bank carries, and how big it has to be.</summary>
    /// <param name="probability">Between 0 and 1; 0.95 when left out.</param>
    /// <param name="break">How many slots in a row nobody works for.</param>
    /// <param name="slots">How many slots ahead; 12 when left out.</param>
    [Get("/v1/series/{series}/bank")]
    Task<IApiResponse<Bank>> Bank(
        string series, double? probability = null, int? @break = null, int? slots = null, Instant? at = null,
        CancellationToken cancel = default);

    /// <summary>Whether projects and stages take the time they were given.</summary>
    /// <param name="days">What you would give a new project.</param>
    [Get("/v1/projects/timeliness")]
    Task<IApiResponse<Timeliness>> Timeliness(double? days = null, CancellationToken cancel = default);

    /// <summary>Flow, chart and cadence of every series.</summary>
    [Get("/v1/learning")]
    Task<IApiResponse<LearningOfAll>> All(
        LocalDate? from = null, LocalDate? to = null, Instant? at = null, CancellationToken cancel = default);
}

/// <summary>A figure with what it rests on.</summary>
/// <param name="Value">In <paramref name="Unit"/>; null when it cannot be computed, and then why.</param>
/// <param name="N">How many values it rests on.</param>
/// <param name="Low">Lower end of the 95 % interval; null when there is none, and then why.</param>
/// <param name="High">Upper end; null when there is none, and then why.</param>
public sealed record Figure(
    double? Value, string Unit, int N, double? Low, double? High, string? Missing, string? LowMissing,
    string? HighMissing);

/// <summary>A percentile.</summary>
public sealed record Percentile(int Percent, Figure Estimate);

/// <summary>How values are spread.</summary>
/// <param name="Percentiles">50, 70, 85 and 95 %.</param>
public sealed record Spread(
    string Unit, int N, IReadOnlyList<Percentile> Percentiles, double? Min, double? Max)
{
    /// <summary>The percentile of that per cent.</summary>
    public Figure At(int percent) => Percentiles.Single(one => one.Percent == percent).Estimate;
}

/// <summary>A share with its 95 % interval.</summary>
public sealed record Share(double? Value, double Low, double High, int N);

/// <summary>A simulated probability.</summary>
/// <param name="StandardError">Of the simulation alone.</param>
public sealed record Chance(double Value, double StandardError, int Trials);
