using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Clock;
using Releasekit.Server.Plans;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>The two steps of an import: check every row, then take the rows in, batch by batch.</summary>
internal sealed class ImportSteps(IDocumentStore store, StagedRows rows, ServiceClock clock)
{
    /// <summary>
    /// So many rows are one transaction: what a crash can undo, and how long others wait for the series.
    /// </summary>
    private const int BatchSize = 500;

    /// <summary>
    /// Checks all rows; the run is failed when one is wrong, done after a dry run, else ready to be taken in.
    /// </summary>
    /// <param name="turn">Called before each batch, so that other imports get theirs.</param>
    public async Task<ImportRun> Check(ImportRun run, Func<Task<IDisposable>> turn, CancellationToken cancel)
    {
        var scene = await Scene.Load(store, run, cancel);
        var errors = new List<RowError>(await rows.Repeated(run.Id, cancel));
        run = run with { State = ImportState.Checking, Created = 0, Unchanged = 0, Checked = 0 };

        for (var last = 0; ;)
        {
            using var _ = await turn();
            var batch = await rows.Next(run.Id, last, BatchSize, cancel);

            if (batch.Count == 0)
            {
                break;
            }

            errors.AddRange(batch.SelectMany(staged => scene.ErrorsOf(staged, clock.Now)));
            var known = batch.Count(staged => scene.IsKnown(staged.Release));
            last = batch[^1].Row;
            run = run with
            {
                Checked = run.Checked + batch.Count,
                Unchanged = run.Unchanged + known,
                Created = run.DryRun ? run.Created + batch.Count - known : 0,
            };
            await Save(run, cancel);
        }

        run = Judged(run.With(errors), clock.Now);
        await Save(run, cancel);

        return run;
    }

    /// <summary>Takes all rows in that are not yet.</summary>
    public async Task<ImportRun> TakeIn(ImportRun run, Func<Task<IDisposable>> turn, CancellationToken cancel)
    {
        var scene = await Scene.Load(store, run, cancel);

        while (true)
        {
            using var _ = await turn();
            var batch = await rows.Next(run.Id, after: 0, BatchSize, cancel);
            run = await TakeIn(run, batch, scene, cancel);

            if (run.IsOver)
            {
                return run;
            }
        }
    }

    /// <summary>One transaction: the events, the marks on the rows, the progress of the run.</summary>
    private async Task<ImportRun> TakeIn(
        ImportRun run, IReadOnlyList<StagedRow> batch, Scene scene, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(run.Publisher);
        Origin.Mark(session, "import");

        // Nobody may give a slot of the series away meanwhile.
        await session.Events.FetchForExclusiveWriting<Series>(StreamIds.OfSeries(run.Series), cancel);
        LocalDate[] slots = [.. batch.Select(staged => staged.Release.Slot).OfType<LocalDate>()];
        var held = await ReleaseMarks.HeldOf(session, run.Series, slots, cancel);
        var (created, unchanged) = Append(session, run, batch, scene, held);
        run = run with { Created = run.Created + created, Unchanged = run.Unchanged + unchanged };

        if (batch.Count == 0)
        {
            run = run with { State = ImportState.Done, FinishedAt = clock.Now };
        }
        else
        {
            session.QueueSqlCommand(StagedRows.MarkDoneSql, run.Id, batch[^1].Row);
        }

        session.Store(run);
        await session.SaveChangesAsync(cancel);

        return run;
    }

    private (int Created, int Unchanged) Append(
        IDocumentSession session, ImportRun run, IReadOnlyList<StagedRow> batch, Scene scene,
        IReadOnlySet<LocalDate> held)
    {
        var (created, unchanged) = (0, 0);

        foreach (var staged in batch)
        {
            if (scene.IsKnown(staged.Release))
            {
                unchanged++;
                continue;
            }

            // A slot given away since the check stays with whoever got it.
            var release = staged.Release.Slot is { } slot && held.Contains(slot)
                ? staged.Release with { Slot = null }
                : staged.Release;
            var id = NewIds.Next();
            session.Events.StartStream<Release>(id, release.Decide(id, run.Series, scene.Plan, clock.Now));
            created++;
        }

        return (created, unchanged);
    }

    private static ImportRun Judged(ImportRun run, Instant now) => run switch
    {
        { ErrorCount: > 0 } => run with { State = ImportState.Failed, Created = 0, Unchanged = 0, FinishedAt = now },
        { DryRun: true } => run with { State = ImportState.Done, FinishedAt = now },
        _ => run with { State = ImportState.Importing, Unchanged = 0 },
    };

    private async Task Save(ImportRun run, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(run.Publisher);
        session.Store(run);
        await session.SaveChangesAsync(cancel);
    }

    /// <summary>What rows are checked against.</summary>
    private sealed record Scene(Series Series, StagePlan Plan, KnownReleases Known)
    {
        public static async Task<Scene> Load(IDocumentStore store, ImportRun run, CancellationToken cancel)
        {
            await using var session = store.QuerySession(run.Publisher);
            var series = (await session.LoadAsync<Series>(StreamIds.OfSeries(run.Series), cancel))!;
            var plan = (await session.LoadAsync<StagePlanVersions>(series.StagePlan, cancel))!;

            return new(series, plan.Latest, await KnownReleases.Load(session, run.Series, cancel));
        }

        public bool IsKnown(ImportedRelease row) => Known.Has(row, Plan.Publication.Key);

        public IEnumerable<RowError> ErrorsOf(StagedRow staged, Instant now)
        {
            if (staged.Release.Slot is { } slot && !IsKnown(staged.Release))
            {
                if (SlotCalendar.Find(Series, slot) is null)
                {
                    yield return new(
                        staged.Line, "slot_date", $"'{Series.Title}' promises no slot on {slot:uuuu-MM-dd}.");
                }
                else if (Known.Holds(slot))
                {
                    yield return new(
                        staged.Line, "slot_date", $"The slot of {slot:uuuu-MM-dd} is held by another release.");
                }
            }

            if (staged.Release.Decide(Guid.Empty, Series.Slug, Plan, now).Refusal is { } refusal)
            {
                yield return new(staged.Line, null, refusal.Reason);
            }
        }
    }
}
