using Marten;
using Microsoft.AspNetCore.Mvc;
using Npgsql;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Plans;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>
/// POST /v1/imports: takes a CSV file of releases in; it is checked whole before any row is imported.
/// </summary>
internal static class StartImport
{
    private const long LargestFile = 64L << 20;

    public static void Map(IEndpointRouteBuilder imports) => imports
        .MapPost("/", Handle)
        .WithName("startImport")
        .WithSummary("Import a CSV file")
        .WithDescription("""
            text/csv (RFC 4180, UTF-8, 64 MiB) with a header line. "kind" says what the rows are: releases of "series",
            or ideas, notes, wants, tasks, appointments (up to 10000 rows, with the columns that their export has, all
            taken in at once; one that stands already is left alone). For releases columns are known by name: title,
            slot_date, published_at, external_id, <stage>_started_at, <stage>_completed_at; "map" says what others are
            (edit.completed:last_edit_at,title:name), "ignore" skips some. Two columns that tell the same, by name or
            by "map", are refused until one is ignored. Instants have an offset, or are read in the zone of the
            series; they are kept to the millisecond. Every row is checked first: one bad row and nothing is imported.
            A row that is known already (by external id, else slot, else publication, else title) is left alone. A
            history is what happened: a stage may be completed over an open strict predecessor, marked outOfOrder.
            Imports of one series follow each other in the order they came. Imported events are never told to
            webhooks.
            """)
        .Accepts<string>("text/csv")
        .Answers(202, 413, 415, 422)
        .Needs(Scope.Write)
        .WithMetadata(new RequestSizeLimitAttribute(LargestFile));

    private static async Task<Answer<ImportBody>> Handle(
        [AsParameters] ImportQuery query, Caller caller, HttpRequest request, IDocumentStore store,
        NpgsqlDataSource database, ImportTurns turns, IEnumerable<IEntryImport> entries, ServiceClock clock,
        CancellationToken cancel)
    {
        if (Unfit(request, query, entries) is { } unfit)
        {
            return unfit;
        }

        if (entries.FirstOrDefault(one => one.Kind == query.Kind) is { } entryImport)
        {
            // Quotation marks in a field stand doubled.
            using var sheet = new CsvRows(request.Body, (2 * Note.LongestText) + 2);
            return await entryImport.Run(sheet, query, caller, cancel);
        }

        return await TakeReleases(query, caller, request, store, database, turns, clock, cancel);
    }

    private static async Task<Answer<ImportBody>> TakeReleases(
        ImportQuery query, Caller caller, HttpRequest request, IDocumentStore store, NpgsqlDataSource database,
        ImportTurns turns, ServiceClock clock, CancellationToken cancel)
    {
        await using var reading = store.QuerySession(caller.Publisher);
        var series = query.Series is null
            ? null
            : await reading.LoadAsync<Series>(StreamIds.OfSeries(query.Series), cancel);

        if (series is null)
        {
            return NoSeries(query);
        }

        var plan = (await reading.LoadAsync<StagePlanVersions>(series.StagePlan, cancel))!.Latest;
        using var file = new CsvRows(request.Body);

        if (ReadHeader(await file.Next(), plan, query, out var columns) is { } problem)
        {
            return problem;
        }

        var run = RunOf(series, plan, columns!, query, caller, clock.Now);
        var upload = new ImportUpload(file, new ImportedRow(columns!, plan, series.Zone, run.StartedAt), plan);

        if (await Stage(upload, run, caller.Token, store, database, cancel) is not { } staged)
        {
            return Problems.Of("unauthenticated", "The token was revoked, or its publisher erased, meanwhile.");
        }

        turns.Add(new(run.Publisher, run.Series));

        return Http.Answers.Accepted($"/v1/imports/{run.Id}", ImportBody.Of(staged));
    }

    private static Problem NoSeries(ImportQuery query) => Problems.Of(
        "series.unknown", $"Say in 'series' whose releases these are; there is no series '{query.Series}'.",
        new ProblemError("series", "Unknown."));

    private static ImportRun RunOf(
        Series series, StagePlan plan, ImportColumns columns, ImportQuery query, Caller caller, Instant now) => new(
        NewIds.Next(), caller.Publisher, series.Slug, plan.Id, plan.Version, query.DryRun ?? false,
        ImportState.Waiting, Rows: 0, columns.Ignored,
        columns.Find("slot_date") is { } slot ? columns.NameOf(slot) : null, now);

    private static Problem? Unfit(HttpRequest request, ImportQuery query, IEnumerable<IEntryImport> entries)
    {
        if (!MediaTypes.Is(request.ContentType, "text/csv"))
        {
            return BodyGuard.Unsupported(request.HttpContext);
        }

        string[] kinds = [ImportRun.Releases, .. entries.Select(one => one.Kind)];

        if (query.Kind is { } kind && !kinds.Contains(kind))
        {
            return Problems.Of(
                "query-invalid", $"'kind' takes {string.Join(", ", kinds)}.", new ProblemError("kind", "Unknown."));
        }

        if (query.Kind is not (null or ImportRun.Releases) && query.Series is not null)
        {
            return Problems.Of(
                "query-invalid", "'series' goes with releases only; an idea names its series in its own column.",
                new ProblemError("series", "Leave it out."));
        }

        return null;
    }

    private static Problem? ReadHeader(CsvRow first, StagePlan plan, ImportQuery query, out ImportColumns? columns)
    {
        columns = null;

        if (first is not { Fields: { } header, Fault: null })
        {
            var detail = first.Fault ?? "The file is empty; its first line names the columns.";
            return Problems.Of("import.columns", detail, new ProblemError("header", detail));
        }

        columns = ImportColumns.Read(
            [.. header.Select(name => name.Trim())], plan, query.Map, query.Ignore, out var problem);
        return problem;
    }

    /// <summary>Writes the rows and the run in one transaction: an upload that breaks off leaves nothing.</summary>
    /// <param name="token">Whoever sends long must still be known at the end; an erasure waits from then on.</param>
    /// <returns>Null when the token is gone.</returns>
    private static async Task<ImportRun?> Stage(
        ImportUpload upload, ImportRun run, Guid token, IDocumentStore store, NpgsqlDataSource database,
        CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        await using (var copy = await StagedRows.Copy(connection, cancel))
        {
            await upload.CopyTo(copy, run, cancel);
            await copy.CompleteAsync(cancel);
        }

        await ImportLocks.KeepPublisher(connection, run.Publisher, cancel);

        if (!await TokenTable.Has(token, connection, cancel))
        {
            return null;
        }

        var staged = run with { Rows = upload.Rows, Errors = upload.Errors, ErrorCount = upload.ErrorCount };
        var options = Marten.Services.SessionOptions.ForTransaction(transaction);
        options.TenantId = run.Publisher;

        await using (var session = store.OpenSession(options))
        {
            session.Insert(staged);
            await session.SaveChangesAsync(cancel);
        }

        await transaction.CommitAsync(cancel);
        return staged;
    }
}

/// <param name="Series">The id of the series whose releases these are; not for other kinds.</param>
/// <param name="Map">What columns tell: fact:column, comma-separated.</param>
/// <param name="Ignore">Columns to skip, comma-separated.</param>
/// <param name="Kind">releases, also when left out; ideas, notes, wants, tasks or appointments.</param>
/// <param name="DryRun">True: everything is checked and counted, nothing is stored.</param>
internal sealed record ImportQuery(
    [property: FromQuery(Name = "series")] string? Series = null,
    [property: FromQuery(Name = "map")] string? Map = null,
    [property: FromQuery(Name = "ignore")] string? Ignore = null,
    [property: FromQuery(Name = "kind")] string? Kind = null,
    [property: FromQuery(Name = "dryRun")] bool? DryRun = null);
