using JasperFx;
using Marten;
using Npgsql;

namespace Releasekit.Server.Imports;

/// <summary>
/// The next batch of a series: one short transaction under the series' lock, in which the run is read anew, worked on
/// and stored together with what the batch made. Nothing is held in between but what is remembered of the run.
/// </summary>
internal sealed class ImportBatches(IDocumentStore store, ImportSteps steps)
{
    /// <summary>What breaks so many times at one place is no passing fault.</summary>
    private const int MostFaults = 3;

    private static readonly TimeSpan AtOnce = TimeSpan.Zero;
    private static readonly TimeSpan Later = TimeSpan.FromSeconds(1);

    private readonly Dictionary<ImportedSeries, Place> _places = [];

    /// <summary>
    /// Works one batch of the series' oldest unfinished run. A run that another process carries on is left to it. When
    /// it throws nothing was changed, and the next turn begins at the same place.
    /// </summary>
    /// <returns>When the series wants its next turn; null when it has no unfinished run.</returns>
    public async Task<TimeSpan?> Next(ImportedSeries series, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(series.Publisher);
        await session.BeginTransactionAsync(cancel);

        if (!await ImportLocks.TryTake(session, series.Series, cancel))
        {
            return Later;
        }

        if (await Oldest(session, series.Series, cancel) is not { } run)
        {
            _places.Remove(series);
            return null;
        }

        if (_places.GetValueOrDefault(series) is not { } place || !place.IsOf(run))
        {
            _places[series] = place = Place.Of(run, scene: null);

            // Moved on by another hand, or cut off: whether somebody is at it shows when it is looked at again.
            if (run.State is not ImportState.Waiting)
            {
                return Later;
            }
        }

        var left = await Work(session, run, place, cancel);
        _places[series] = Place.Of(left, left.IsOver ? null : place.Scene);
        return AtOnce;
    }

    /// <summary>The run that comes first; another waits for it, whoever carries it on.</summary>
    private static Task<ImportRun?> Oldest(IQuerySession session, string series, CancellationToken cancel) =>
        session.Query<ImportRun>()
            .Where(run => run.Series == series && run.State.IsOneOf(ImportRun.UnfinishedStates))
            .OrderBy(run => run.Id)
            .FirstOrDefaultAsync(cancel);

    private async Task<ImportRun> Work(
        IDocumentSession session, ImportRun run, Place place, CancellationToken cancel)
    {
        try
        {
            var left = place.Faults < MostFaults
                ? await steps.Next(session, run, place.Scene ??= await ImportScene.Load(session, run, cancel), cancel)
                : steps.Broken(session, run, new(0, null, "Something broke here; the log of the service says more."));
            session.Store(left);
            await session.SaveChangesAsync(cancel);
            return left;
        }
        catch (Exception e) when (e is not OperationCanceledException && !IsPassing(e))
        {
            place.Faults++;
            throw;
        }
    }

    /// <summary>Whether the database, or another of its users, is the cause, not the run.</summary>
    private static bool IsPassing(Exception? e) => e switch
    {
        null => false,
        PostgresException refused => refused.IsTransient || refused.SqlState is PostgresErrorCodes.QueryCanceled,
        NpgsqlException or IOException or TimeoutException or ConcurrencyException => true,
        _ => IsPassing(e.InnerException),
    };

    /// <summary>Where this process left a run, and what it keeps for going on there.</summary>
    private sealed class Place(Guid run, ImportState state, int lastRow, ImportScene? scene)
    {
        public ImportScene? Scene { get; set; } = scene;

        /// <summary>How often it broke here.</summary>
        public int Faults { get; set; }

        public static Place Of(ImportRun run, ImportScene? scene) => new(run.Id, run.State, run.LastRow, scene);

        /// <summary>Whether the run is still where it was left.</summary>
        public bool IsOf(ImportRun found) => (found.Id, found.State, found.LastRow) == (run, state, lastRow);
    }
}
