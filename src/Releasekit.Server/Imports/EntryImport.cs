using Marten;
using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Imports;

/// <summary>Takes entries of one kind in from a CSV file, within the request.</summary>
internal interface IEntryImport
{
    /// <summary>As <c>kind=</c> names it: ideas.</summary>
    string Kind { get; }

    Task<Answer<ImportBody>> Run(CsvRows file, ImportQuery query, Caller caller, CancellationToken cancel);
}

/// <summary>All rows are checked, then all are stored in one transaction, or none.</summary>
internal sealed class EntryImport<TEntry, TValues, TBody>(
    EntryKind<TEntry, TValues, TBody> kind, Ledger ledger, ServiceClock clock) : IEntryImport
    where TEntry : Entry
    where TValues : class
    where TBody : class, ITagged
{
    private const int MostRows = 10_000;

    /// <summary>Each may bring four hundred tasks.</summary>
    private const int MostRecurrences = 100;

    public string Kind => $"{kind.Name}s";

    public async Task<Answer<ImportBody>> Run(
        CsvRows file, ImportQuery query, Caller caller, CancellationToken cancel)
    {
        if (await file.Next() is not { Fields: { } header, Fault: null })
        {
            return Problems.Of("import.columns", "The file is empty, or its first line cannot be read as CSV.",
                new ProblemError("header", "Names the columns."));
        }

        var reader = EntryRowReader<TValues>.Read(
            [.. header.Select(name => name.Trim())], query.Map, query.Ignore, out var problem);

        if (problem is not null)
        {
            return problem;
        }

        var errors = new List<RowError>();
        var (rows, count) = await ReadRows(file, reader, errors);
        var run = new ImportRun(
            NewIds.Next(), caller.Publisher, string.Empty, string.Empty, 0, query.DryRun ?? false, ImportState.Done,
            count, reader.Ignored, null, clock.Now)
        { Kind = Kind, Checked = count };

        return await ledger.Write(
            caller.Publisher, unit => Take(unit, run, rows, reader, errors, caller, cancel), cancel);
    }

    private async Task<Answer<ImportBody>> Take(
        UnitOfWork unit, ImportRun run, List<(int Line, TValues Values)> rows, EntryRowReader<TValues> reader,
        List<RowError> errors, Caller caller, CancellationToken cancel)
    {
        // The same file sent twice at once comes in once.
        await unit.OneAtATime("imports of entries");

        if (await unit.Documents.LoadAsync<AccessToken>(caller.Token, cancel) is null)
        {
            return Problems.Of("unauthenticated", "The token was revoked, or its publisher erased, meanwhile.");
        }

        var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel) with { IsImport = true };
        var found = new List<RowError>(errors);
        var ended = Judged(run, await TakeIn(unit, rows, reader, scene, found), found, scene.Now);

        if (ended.DryRun || ended.State is ImportState.Failed)
        {
            unit.Documents.EjectAllPendingChanges();
        }

        unit.Documents.Store(ended);
        return Http.Answers.Accepted($"/v1/imports/{run.Id}", ImportBody.Of(ended));
    }

    private static ImportRun Judged(ImportRun run, int created, List<RowError> found, Instant now) => found.Count > 0
        ? run.With(found).Ended(ImportState.Failed, now)
        : (run with { Created = created, Unchanged = run.Rows - created }).Ended(ImportState.Done, now);

    private static async Task<(List<(int Line, TValues Values)> Rows, int Count)> ReadRows(
        CsvRows file, EntryRowReader<TValues> reader, List<RowError> errors)
    {
        var rows = new List<(int, TValues)>();

        for (var count = 0; ; count++)
        {
            var row = await file.Next();

            if (row.Fault is not null || (row.Fields is not null && count == MostRows))
            {
                errors.Add(new(row.Line, null, row.Fault ?? $"The file has more than {MostRows} rows; split it."));
                return (rows, count);
            }

            if (row.Fields is not { } fields)
            {
                return (rows, count);
            }

            if (reader.Read(fields, row.Line, errors) is { } values)
            {
                rows.Add((row.Line, values));
            }
        }
    }

    /// <returns>How many are new.</returns>
    private async Task<int> TakeIn(
        UnitOfWork unit, List<(int Line, TValues Values)> rows, EntryRowReader<TValues> reader, EntryScene scene,
        List<RowError> errors)
    {
        var known = (await unit.Documents.Query<TEntry>().Where(entry => entry.RemovedAt == null)
            .ToListAsync(scene.Cancel)).Select(kind.IdentityOf).ToHashSet();
        var seen = new Dictionary<string, int>();
        var created = 0;
        var recurring = 0;

        foreach (var (line, values) in rows)
        {
            var id = NewIds.Next();
            var identity = kind.IdentityOf(kind.Write(null, values, id, scene));

            if (!seen.TryAdd(identity, line))
            {
                errors.Add(new(line, null, $"The row tells the same as line {seen[identity]}; each may stand once."));
            }
            else if (!known.Contains(identity) && values is TaskValues { Rrule: not null }
                && ++recurring > MostRecurrences)
            {
                errors.Add(new(line, "rrule", $"A file begins {MostRecurrences} recurrences at most; split it."));
            }
            else if (!known.Contains(identity))
            {
                created++;
                var (_, problem) = await EntryWriting.Write(kind, unit, null, values, id, scene);
                errors.AddRange(ErrorsOf(problem, line, reader));
            }
        }

        return created;
    }

    private static IEnumerable<RowError> ErrorsOf(Problem? problem, int line, EntryRowReader<TValues> reader)
    {
        if (problem is { Errors: null })
        {
            yield return new(line, null, problem.Detail);
        }

        foreach (var error in problem?.Errors ?? [])
        {
            var column = EntryColumns<TValues>.Only.At(error.Pointer);
            yield return new(line, column is null ? null : reader.NameOf(column), error.Detail);
        }
    }
}
