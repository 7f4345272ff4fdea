using Marten;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>GET /v1/imports/{id}: how far an import is, and what is wrong with which row.</summary>
internal static class GetImport
{
    public static void Map(IEndpointRouteBuilder imports) => imports
        .MapGet("/{id:guid}", Handle)
        .WithName("getImport")
        .WithSummary("Read an import's progress")
        .WithDescription("""
            State is waiting (for its turn, or for an earlier import of the series), checking (every row, "checked" says
            how many), importing ("created" and "unchanged" rise together with the rows they count), done, or failed.
            With a bad row it is failed before anything is imported, and "created" is 0. Should something break here
            while it is importing, it is failed with "created" telling how many releases are in and stay; the same file
            again adds the others. A database that fails for a while fails no import: it goes on afterwards.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<ImportBody>> Handle(
        Guid id, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Publisher);
        return await session.LoadAsync<ImportRun>(id, cancel) is { } run
            ? ImportBody.Of(run)
            : Problems.NotFound("import of that id");
    }
}

/// <param name="Id">Given at the upload.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Kind">releases, ideas, notes, wants, tasks or appointments.</param>
/// <param name="Series">The id of the series whose releases are imported; null for other kinds.</param>
/// <param name="DryRun">Nothing is stored; the counts say what would be.</param>
/// <param name="Rows">Rows of the file, header not counted.</param>
/// <param name="Checked">Rows looked at so far.</param>
/// <param name="Created">Releases made so far; with a dry run: that would be made.</param>
/// <param name="Unchanged">Rows that were known already and left alone.</param>
/// <param name="IgnoredColumns">Columns that tell nothing here; names are shortened after 40 characters.</param>
/// <param name="Errors">The first thousand, by line.</param>
/// <param name="ErrorCount">All of them.</param>
/// <param name="StartedAt">When the upload began, UTC.</param>
/// <param name="FinishedAt">When it was done or failed, UTC; null while it goes on.</param>
internal sealed record ImportBody(
    Guid Id,
    ImportState State,
    string Kind,
    string? Series,
    bool DryRun,
    int Rows,
    int Checked,
    int Created,
    int Unchanged,
    IReadOnlyList<string> IgnoredColumns,
    IReadOnlyList<RowErrorBody> Errors,
    int ErrorCount,
    Instant StartedAt,
    Instant? FinishedAt) : ITagged
{
    public static ImportBody Of(ImportRun run) => new(
        run.Id, run.State, run.Kind, run.Series.Length == 0 ? null : run.Series, run.DryRun, run.Rows, run.Checked,
        run.Created, run.Unchanged,
        run.IgnoredColumns, [.. run.Errors.Select(RowErrorBody.Of)], run.ErrorCount, run.StartedAt, run.FinishedAt);
}

/// <param name="Line">Where the row begins; the header is line 1.</param>
/// <param name="Column">Null when it is the row as a whole.</param>
/// <param name="Reason">What is wrong, and what would be right.</param>
internal sealed record RowErrorBody(int Line, string? Column, string Reason)
{
    public static RowErrorBody Of(RowError error) => new(error.Line, error.Column, error.Reason);
}
