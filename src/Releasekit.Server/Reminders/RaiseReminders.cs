using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Learning;
using Releasekit.Server.Plans;
using Releasekit.Server.Sheets;
using Releasekit.Server.Store;

namespace Releasekit.Server.Reminders;

/// <summary>
/// Raises what is owed and was not raised before. An occasion is kept in the same transaction as its event, under a key
/// that can stand only once: two processes cannot both raise it, and none is lost between the two.
/// </summary>
internal sealed partial class RaiseReminders(
    IDocumentStore store, Ledger ledger, ServiceClock clock, ILogger<RaiseReminders> log)
{
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

    /// <summary>For one publisher.</summary>
    public Task Run(Publisher publisher, CancellationToken cancel) =>
        ledger.Write<Nothing>(publisher.Id, async unit =>
        {
            var scene = new EntryScene(unit.Documents, publisher, clock.Now, cancel);
            var ahead = Math.Max(publisher.Reminders.TaskDays, publisher.Reminders.ImportantTaskDays);
            var facts = await SheetReading.Load(scene, scene.Today, scene.Today.PlusDays(ahead + 1)) with
            {
                Chances = await KeepForecasts.Latest(unit.Documents, scene.Now, cancel),
            };
            var owed = Occasions.Owed(facts, await PlansOf(unit, facts.Series.Select(one => one.Series), cancel));
            var known = (await unit.Documents.LoadManyAsync<RaisedOccasion>(cancel, owed.Select(one => one.Id)))
                .Select(raised => raised.Id)
                .ToHashSet();
            var news = owed.Where(occasion => !known.Contains(occasion.Id)).ToArray();

            if (news.Length > 0)
            {
                unit.Documents.Insert(news.Select(occasion => new RaisedOccasion(occasion.Id, scene.Now)));
                unit.Remind([.. news.Select(occasion => ReminderRaised.Of(occasion, scene.Now))]);
            }

            return new Nothing();
        }, cancel);

    private static async Task<IReadOnlyDictionary<string, PlannedWork>> PlansOf(
        UnitOfWork unit, IEnumerable<Series> series, CancellationToken cancel)
    {
        var open = series.Where(one => one.ClosedAt is null).ToArray();
        var plans = await unit.Documents.LoadManyAsync<StagePlanVersions>(
            cancel, open.Select(one => one.StagePlan).Distinct());
        var latest = plans.ToDictionary(plan => plan.Id, plan => new PlannedWork(plan.Latest));

        return open.Where(one => latest.ContainsKey(one.StagePlan))
            .ToDictionary(one => one.Slug, one => latest[one.StagePlan]);
    }

    [LoggerMessage(LogLevel.Warning, "The reminders of {Publisher} could not be raised; it is tried again")]
    private static partial void LogFailed(ILogger logger, Exception e, string publisher);
}

/// <summary>An occasion that was raised.</summary>
/// <param name="Id">As <see cref="Occasion.Id"/>.</param>
internal sealed record RaisedOccasion(string Id, Instant At);
