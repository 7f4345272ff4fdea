using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Server.Learning;

/// <summary>A forecast says how sure it is of itself; that has nothing to do with what will be.</summary>
/// <param name="At">As of then, UTC.</param>
/// <param name="Trials">How many trials were run.</param>
/// <param name="Seed">The same seed, trials and past give the same forecast.</param>
/// <param name="Releases">The open releases of the series, in the order they are worked on.</param>
/// <param name="Slots">The slots of the window that are owed, by date.</param>
/// <param name="ReadyBy">How many of the open releases are ready by a date.</param>
/// <param name="WhenReady">When the first, the first two, and so on, are ready, whichever they are.</param>
/// <param name="NotForecast">Open releases of the publisher that nothing can be said of, and so take no hours
/// here.</param>
/// <param name="Caution">What the figures do not know.</param>
internal sealed record SeriesForecastBody(
    Instant At,
    int Trials,
    int Seed,
    IReadOnlyList<ReleaseForecastBody> Releases,
    IReadOnlyList<SlotForecastBody> Slots,
    ReadyByBody? ReadyBy,
    IReadOnlyList<WhenReadyBody> WhenReady,
    IReadOnlyList<NotForecastBody> NotForecast,
    string Caution)
{
    /// <summary>Said with every forecast.</summary>
    public const string UsualCaution =
        "These are the odds if things go on as they did. Work after publications, tasks, projects and rest are not in "
        + "them; a poor forecast is a reason to promise less, not to work through the night.";
}

/// <param name="Id">The id of the release.</param>
/// <param name="Title">Its title.</param>
/// <param name="Series">The id of its series.</param>
/// <param name="Slot">The slot it holds, by its original local date; null without one.</param>
/// <param name="SlotAt">Where the slot stands, UTC; null without one, and when it is excused.</param>
/// <param name="Met">
/// The probability that it is ready in time to meet its slot, tolerance included, if it goes on as past releases did;
/// null without a slot.
/// </param>
/// <param name="Finish">By when it is ready with 50, 70, 85 and 95 %, if it goes on as past releases did.</param>
/// <param name="Nonstop">
/// The same if every working hour from now on goes into the open releases, one after another: what is possible at
/// best.
/// </param>
/// <param name="Basis">What it rests on; "guesses" are those of the stage plan, as too little is past.</param>
/// <param name="Past">How many past releases can be drawn from.</param>
/// <param name="LeftOut">Published releases that cannot tell how long their stages took.</param>
/// <param name="StartsTaken">
/// Past releases in which a stage was ticked without a start: it is then taken to have begun at the tick before it.
/// </param>
/// <param name="Outlasting">
/// Whether it has taken longer than any past release: nothing tells what is left of it.
/// </param>
/// <param name="Says">The forecast in a sentence.</param>
internal sealed record ReleaseForecastBody(
    Guid Id,
    string Title,
    string Series,
    LocalDate? Slot,
    Instant? SlotAt,
    Chance? Met,
    IReadOnlyList<FinishPercentile> Finish,
    NonstopBody Nonstop,
    ForecastBasis Basis,
    int Past,
    int LeftOut,
    int StartsTaken,
    bool Outlasting,
    string Says)
{
    public static ReleaseForecastBody Of(
        Release release, ReleaseForecast forecast, ReleaseForecast nonstop, PastWork past, DateTimeZone zone) => new(
        release.Id,
        release.Title,
        release.Series,
        release.HeldSlot,
        forecast.SlotAt,
        forecast.Met,
        forecast.Finish,
        new(nonstop.Met, nonstop.Finish),
        forecast.Basis,
        forecast.Past,
        past.LeftOut,
        past.StartsTaken,
        forecast.IsOutlasting,
        ForecastWording.Of(forecast, zone));
}

/// <param name="Met">The probability that it is ready in time to meet its slot; null without one.</param>
/// <param name="Finish">By when it is ready with 50, 70, 85 and 95 %.</param>
internal sealed record NonstopBody(Chance? Met, IReadOnlyList<FinishPercentile> Finish);

/// <param name="Date">The original local date of the slot.</param>
/// <param name="At">Where it stands, UTC.</param>
/// <param name="Release">The release that holds it; null when nobody does.</param>
/// <param name="Met">The probability that it is met; null when nobody holds it, or nothing is forecast.</param>
internal sealed record SlotForecastBody(LocalDate Date, Instant At, Guid? Release, Chance? Met);

/// <param name="By">The local date, included: by the end of it.</param>
/// <param name="AtLeast">By k, from 0: the probability that at least k are ready.</param>
/// <param name="With85">The most that are ready with 85 %.</param>
/// <param name="With50">The most that are ready with 50 %.</param>
internal sealed record ReadyByBody(LocalDate By, IReadOnlyList<Chance> AtLeast, int With85, int With50)
{
    public static ReadyByBody Of(LocalDate by, CountForecast counts) =>
        new(by, counts.AtLeast, counts.With(85), counts.With(50));
}

/// <param name="Count">How many.</param>
/// <param name="Finish">By when so many are ready with 50, 70, 85 and 95 %.</param>
internal sealed record WhenReadyBody(int Count, IReadOnlyList<FinishPercentile> Finish);

/// <param name="Release">The id of the release.</param>
/// <param name="Title">Its title.</param>
/// <param name="Past">How many past releases can be drawn from; five are needed.</param>
/// <param name="LeftOut">How many published ones cannot tell.</param>
/// <param name="WithoutGuess">Stages ahead that nobody guessed: with an "effort" for each a forecast rests on guesses.
/// </param>
internal sealed record NotForecastBody(
    Guid Release, string Title, int Past, int LeftOut, IReadOnlyList<string> WithoutGuess);
