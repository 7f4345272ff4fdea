using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Clock;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>
/// The two steps of an import, batch by batch: check every row, then take the rows in. Each works in the transaction of
/// the session and leaves the run as it is to be stored with it.
/// </summary>
internal sealed class ImportSteps(ServiceClock clock)
{
    /// <summary>
    /// So many rows are one transaction: what a crash can undo, and how long others wait for the series.
    /// </summary>
    private const int BatchSize = 500;

    public Task<ImportRun> Next(
        IDocumentSession session, ImportRun run, ImportScene scene, CancellationToken cancel) =>
        run.State is ImportState.Importing
            ? TakeIn(session, run, scene, cancel)
            : Check(session, run, scene, cancel);

    private async Task<ImportRun> Check(
        IDocumentSession session, ImportRun run, ImportScene scene, CancellationToken cancel)
    {
        if (run.State is ImportState.Waiting)
        {
            var (first, all) = await StagedRows.Repeated(session, run.Id, cancel);
            run = run.With(first, all) with { State = ImportState.Checking };
        }

        var batch = await StagedRows.Next(session, run.Id, run.LastRow, BatchSize, cancel);
        var errors = batch.SelectMany(staged => scene.ErrorsOf(staged, run.SlotColumn, clock.Now)).ToArray();
        var known = batch.Count(staged => scene.IsKnown(staged.Release));
        run = run.With(errors) with
        {
            LastRow = batch.Count == 0 ? run.LastRow : batch[^1].Row,
            Checked = run.Checked + batch.Count,
            Unchanged = run.Unchanged + known,
            Created = run.DryRun ? run.Created + batch.Count - known : 0,
        };

        return batch.Count == BatchSize ? run : Judged(session, run);
    }

    /// <summary>
    /// The run after its last row was checked: failed, done after a dry run, else ready to be taken in.
    /// </summary>
    private ImportRun Judged(IDocumentSession session, ImportRun run)
    {
        var counted = run.ErrorCount > 0 || !run.DryRun ? run with { Created = 0, Unchanged = 0 } : run;

        if (run is { ErrorCount: 0, DryRun: false })
        {
            return counted with { State = ImportState.Importing, LastRow = 0 };
        }

        session.QueueSqlCommand(StagedRows.ForgetSql, run.Id);
        return counted.Ended(run.ErrorCount > 0 ? ImportState.Failed : ImportState.Done, clock.Now);
    }

    /// <summary>The events of a batch, and its rows forgotten.</summary>
    private async Task<ImportRun> TakeIn(
        IDocumentSession session, ImportRun run, ImportScene scene, CancellationToken cancel)
    {
        Origin.Mark(session, "import");

        // Nobody may give a slot of the series away meanwhile.
        var stream = await session.Events.FetchForExclusiveWriting<Series>(StreamIds.OfSeries(run.Series), cancel);
        var batch = await StagedRows.Next(session, run.Id, run.LastRow, BatchSize, cancel);
        var made = batch.Where(staged => !scene.IsKnown(staged.Release)).ToArray();
        LocalDate[] slots = [.. made.Select(staged => staged.Release.Slot).OfType<LocalDate>()];
        var held = await ReleaseMarks.HeldOf(session, run.Series, slots, cancel);
        var free = slots.Where(slot => !held.Contains(slot) && SlotCalendar.Find(stream.Aggregate!, slot) is not null);

        return Append(session, run, scene, made, free.ToHashSet()) is { } refused
            ? Broken(session, run, refused)
            : TakenIn(session, run, batch, made.Length);
    }

    /// <summary>Begins the releases of the rows; or of none, and says what is wrong with which.</summary>
    /// <param name="free">Slots that are there and held by nobody; with one given away since the check the release
    /// comes in without it.</param>
    private RowError? Append(
        IDocumentSession session, ImportRun run, ImportScene scene, StagedRow[] rows,
        HashSet<LocalDate> free)
    {
        var decided = new List<(Guid Id, Domain.Decision<ReleaseEvent> Events)>(rows.Length);

        foreach (var (_, line, row) in rows)
        {
            var release = row.Slot is { } slot && !free.Contains(slot) ? row with { Slot = null } : row;
            var id = NewIds.Next();
            var decision = release.Decide(id, run.Series, scene.Plan, clock.Now);

            if (decision.Refusal is { } refusal)
            {
                return new(line, null, refusal.Reason);
            }

            decided.Add((id, decision));
        }

        foreach (var (id, events) in decided)
        {
            session.Events.StartStream<Release>(id, events);
        }

        return null;
    }

    private ImportRun TakenIn(IDocumentSession session, ImportRun run, IReadOnlyList<StagedRow> batch, int created)
    {
        run = run with
        {
            LastRow = batch.Count == 0 ? run.LastRow : batch[^1].Row,
            Created = run.Created + created,
            Unchanged = run.Unchanged + batch.Count - created,
        };
        session.QueueSqlCommand(StagedRows.ForgetUntilSql, run.Id, run.LastRow);

        return batch.Count == BatchSize ? run : run.Ended(ImportState.Done, clock.Now);
    }

    /// <summary>The run ended by a defect; it says what stays imported.</summary>
    public ImportRun Broken(IDocumentSession session, ImportRun run, RowError why)
    {
        session.QueueSqlCommand(StagedRows.ForgetSql, run.Id);
        var imported = run is { State: ImportState.Importing, Created: > 0 }
            ? $" {run.Created} releases were imported before and stay; the same file again adds the others."
            : " Nothing was imported.";

        return run.With([why with { Reason = why.Reason + imported }]).Ended(ImportState.Failed, clock.Now);
    }
}
