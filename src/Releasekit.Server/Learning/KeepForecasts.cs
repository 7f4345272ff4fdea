using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Sheets;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Learning;

/// <summary>
/// Keeps the forecasts of every day, so that nobody can know better afterwards. The first run of a publisher's local
/// day does it; a day on which the service did not run has none.
/// </summary>
internal sealed partial class KeepForecasts(
    IDocumentStore store, Ledger ledger, ServiceClock clock, ILogger<KeepForecasts> log)
{
    /// <summary>What was told longer ago than this says nothing of today.</summary>
    private static readonly Duration OfLate = Duration.FromDays(2);

    /// <summary>For every publisher; what fails for one does not keep the others from theirs.</summary>
    public async Task Run(CancellationToken cancel)
    {
        await using var session = store.QuerySession();

        foreach (var publisher in await session.Query<Publisher>().ToListAsync(cancel))
        {
            try
            {
                await Run(publisher, cancel);
            }
            catch (Exception e) when (!cancel.IsCancellationRequested && !Outage.IsCauseOf(e))
            {
                LogFailed(log, e, publisher.Id);
            }
        }
    }

    /// <summary>For one publisher; nothing when it was done today.</summary>
    public Task Run(Publisher publisher, CancellationToken cancel) =>
        ledger.Write<Nothing>(publisher.Id, async unit =>
        {
            var now = clock.Now;
            var today = publisher.DateAt(now);

            if (!await unit.Documents.Query<KeptForecast>().AnyAsync(kept => kept.Day == today, cancel))
            {
                var scene = await WorkScene.Load(unit.Documents, at: null, now, cancel);
                unit.Documents.Insert(KeptForecast.Of(scene, today));
            }

            return new Nothing();
        }, cancel);

    /// <summary>
    /// What it would have been told on each morning of past days, had the service run: for a story that is told at
    /// once, in which everything was recorded when it happened.
    /// </summary>
    /// <param name="days">Local dates, none later than yesterday.</param>
    public Task Catch(Publisher publisher, IEnumerable<LocalDate> days, CancellationToken cancel) =>
        ledger.Write<Nothing>(publisher.Id, async unit =>
        {
            var material = await WorkMaterial.Load(unit.Documents, clock.Now, cancel);
            var histories = await ReleasesAsOf.Histories(unit.Documents, material.Releases, cancel);

            foreach (var day in days)
            {
                var morning = publisher.StartOf(day);
                var known = histories.Select(events => ReleaseHistory.AsKnownThen(events, morning)).OfType<Release>();
                unit.Documents.Insert(KeptForecast.Of(material.AsOf(morning, [.. known]), day));
            }

            return new Nothing();
        }, cancel);

    /// <summary>The latest of each release, of the last two days.</summary>
    public static async Task<IReadOnlyDictionary<Guid, SlotChance>> Latest(
        IQuerySession session, Instant now, CancellationToken cancel)
    {
        var since = now - OfLate;
        var kept = await session.Query<KeptForecast>()
            .Where(forecast => forecast.SlotAt > now && forecast.IssuedAt > since)
            .ToListAsync(cancel);

        return kept
            .GroupBy(forecast => forecast.Release)
            .Select(group => group.MaxBy(forecast => forecast.IssuedAt)!)
            .ToDictionary(
                latest => latest.Release, latest => new SlotChance(latest.SlotAt, latest.Chance, latest.IssuedAt));
    }

    [LoggerMessage(LogLevel.Warning, "The forecasts of {Publisher} could not be kept; it is tried again")]
    private static partial void LogFailed(ILogger logger, Exception e, string publisher);
}
