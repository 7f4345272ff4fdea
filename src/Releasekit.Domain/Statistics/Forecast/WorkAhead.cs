using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>An open release that is not forecast: too little is past, and not every stage was guessed.</summary>
/// <param name="Release">The release.</param>
/// <param name="Past">How many past releases can be drawn from; fewer than <see cref="WorkLaw.FewestPast"/>.</param>
/// <param name="LeftOut">How many published ones cannot tell.</param>
/// <param name="WithoutGuess">Keys of the stages ahead without a guess.</param>
public sealed record UnforeseenRelease(
    OpenRelease Release, int Past, int LeftOut, IReadOnlyList<string> WithoutGuess);

/// <summary>
/// All that one person still has to make, of all series, and what each is drawn from: the releases of its own series.
/// Work after publications, tasks and steps of projects are not in it.
/// </summary>
/// <param name="Open">What can be forecast.</param>
/// <param name="Unforeseen">What cannot; it takes no hours in the forecast of the others.</param>
/// <param name="Past">By release, what is drawn from or would be.</param>
public sealed record WorkAhead(
    IReadOnlyList<LawfulRelease> Open,
    IReadOnlyList<UnforeseenRelease> Unforeseen,
    IReadOnlyDictionary<Guid, PastWork> Past)
{
    /// <summary>What lies ahead of a publisher.</summary>
    /// <param name="releases">Of all series, published and dropped ones too.</param>
    /// <param name="facts">Of the same releases, as of <paramref name="now"/>.</param>
    /// <param name="series">By slug.</param>
    /// <param name="worked">What went into all of them.</param>
    /// <param name="now">UTC.</param>
    public static WorkAhead Of(
        IReadOnlyList<Release> releases,
        IReadOnlyList<ReleaseFacts> facts,
        IReadOnlyDictionary<string, Series> series,
        WorkedHours worked,
        Instant now)
    {
        var published = facts.Where(one => one.PublishedAt is not null).ToLookup(one => one.Series);
        var known = facts.ToDictionary(one => one.Release);
        var promises = series.ToDictionary(one => one.Key, one => Promises(one.Value, published[one.Key]));
        var ahead = new WorkAhead([], [], new Dictionary<Guid, PastWork>());

        // Releases of one plan and version have the same stages, and are drawn from the same rows.
        foreach (var like in releases
            .Where(release => release is { PublishedAt: null, IsDropped: false })
            .GroupBy(release => (release.Series, release.StagePlan, release.PlanVersion)))
        {
            OpenRelease[] open = [.. like.Select(release => Ahead(release, series[like.Key.Series], worked, now))];
            string[] stages = [.. open.SelectMany(one => one.Stages).Select(stage => stage.Key).Distinct()];
            var past = PastWork.Of(published[like.Key.Series], stages, worked);
            var guesses = like.First().Stages.Select(stage => StageGuess.Of(stage.Plan)).OfType<StageGuess>().ToArray();
            var law = WorkLaw.Choose(past, guesses);
            (ReleaseFacts, Instant?)[] rows =
                [.. past.Releases.Select(one => (one, PromiseOf(one, promises[like.Key.Series])))];

            ahead = ahead.With(open, past, law is null
                ? open.Select(one => new UnforeseenRelease(
                    one, past.Rows.Count, past.LeftOut, [.. WithoutGuess(one, guesses)]))
                : [], law is null
                ? []
                : open.Select(one => new LawfulRelease(one, law)
                {
                    Pace = law.Basis is ForecastBasis.PastReleases
                        ? UsualPace.Of(known[one.Release], one.SlotAt, rows, now)
                        : null,
                }));
        }

        return ahead;
    }

    private WorkAhead With(
        IEnumerable<OpenRelease> releases, PastWork past, IEnumerable<UnforeseenRelease> unforeseen,
        IEnumerable<LawfulRelease> foreseen) => new(
            [.. Open, .. foreseen],
            [.. Unforeseen, .. unforeseen],
            Past.Concat(releases.Select(one => KeyValuePair.Create(one.Release, past)))
                .ToDictionary(one => one.Key, one => one.Value));

    private static OpenRelease Ahead(Release release, Series series, WorkedHours worked, Instant now)
    {
        var slotAt = release.HeldSlot is { } date ? SlotCalendar.Find(series, date)?.OwedAt : null;
        return OpenRelease.Of(release, now, slotAt, worked)! with { Grace = SlotCalendar.ToleranceOf(series) };
    }

    private static Dictionary<LocalDate, Instant> Promises(Series series, IEnumerable<ReleaseFacts> published)
    {
        LocalDate[] dates = [.. published.Select(one => one.Slot).OfType<LocalDate>()];
        return dates.Length == 0
            ? []
            : SlotCalendar.Between(series, dates.Min(), dates.Max().PlusDays(1))
                .ToDictionary(slot => slot.Date, slot => slot.PromisedAt);
    }

    private static Instant? PromiseOf(ReleaseFacts release, Dictionary<LocalDate, Instant> promises) =>
        release.Slot is { } date && promises.TryGetValue(date, out var at) ? at : null;

    private static IEnumerable<string> WithoutGuess(OpenRelease release, StageGuess[] guesses) => release.Stages
        .Select(stage => stage.Key)
        .Where(key => guesses.All(guess => guess.Stage != key));
}
