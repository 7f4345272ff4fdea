using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Server.Store;

namespace Releasekit.Server.Releases;

/// <summary>Shows releases with the slots they hold, as of an instant.</summary>
internal sealed class ReleaseView(IQuerySession session, Instant at, CancellationToken cancel)
{
    private readonly Dictionary<string, Series> _series = [];

    /// <summary>Takes a series as it will be once the transaction is saved.</summary>
    public ReleaseView With(Series series)
    {
        _series[series.Slug] = series;
        return this;
    }

    public async Task<ReleaseBody> Show(Release release) => ReleaseBody.Of(release, await HeldBy(release));

    private async Task<(Slot, SlotStatus)?> HeldBy(Release release)
    {
        if (release.HeldSlot is not { } date)
        {
            return null;
        }

        var series = await SeriesOf(release);

        if (SlotCalendar.Find(series, date) is not { } slot)
        {
            return null;
        }

        var status = HeldSlot.StatusOf(slot, release.PublishedAt, SlotCalendar.ToleranceOf(series), at);

        return (slot, status ?? await JudgedWithTheRest(series, release, date));
    }

    /// <summary>Past its tolerance and unpublished: overdue until a later slot was met, then missed.</summary>
    private async Task<SlotStatus> JudgedWithTheRest(Series series, Release release, LocalDate date)
    {
        var stored = await ReleaseMarks.Of(session, series.Slug, cancel);
        var marks = stored
            .Where(mark => mark.Id != release.Id)
            .Append(new ReleaseMark(release.Id, date, release.PublishedAt))
            .ToArray();

        return SeriesJudgement.Judge(series, marks, date, at).Slots.First(outcome => outcome.Date == date).Status;
    }

    private async Task<Series> SeriesOf(Release release)
    {
        if (!_series.TryGetValue(release.Series, out var series))
        {
            series = await session.LoadAsync<Series>(StreamIds.OfSeries(release.Series), cancel)
                ?? throw new InvalidOperationException($"Release {release.Id} has no series.");
            _series.Add(release.Series, series);
        }

        return series;
    }
}
