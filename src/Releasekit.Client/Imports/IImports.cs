using Refit;

namespace Releasekit.Client.Imports;

/// <summary>Imports of a history, or of entries.</summary>
public interface IImports
{
    /// <summary>Takes a CSV file in; where its progress stands is in the Location header.</summary>
    /// <param name="file">Content of type text/csv.</param>
    /// <param name="series">Needed for releases.</param>
    /// <param name="kind">releases, when null; ideas, notes, wants, tasks or appointments.</param>
    [Post("/v1/imports")]
    Task<IApiResponse<Import>> Start(
        [Body] HttpContent file, string? series = null, string? map = null, string? ignore = null, bool? dryRun = null,
        string? kind = null, [Header("Idempotency-Key")] string? key = null, CancellationToken cancel = default);

    /// <summary>How far an import is.</summary>
    [Get("/v1/imports/{id}")]
    Task<IApiResponse<Import>> Get(Guid id, CancellationToken cancel = default);
}

/// <summary>An import and its progress.</summary>
/// <param name="Created">Releases made; with a dry run: that would be made.</param>
/// <param name="Errors">The first thousand, by line.</param>
public sealed record Import(
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
    IReadOnlyList<RowError> Errors,
    int ErrorCount)
{
    /// <summary>Whether it will not change any more.</summary>
    public bool IsOver => State is ImportState.Done or ImportState.Failed;
}

/// <summary>Where an import stands.</summary>
public enum ImportState
{
    /// <summary>Uploaded.</summary>
    Waiting,

    /// <summary>Every row is checked first.</summary>
    Checking,

    /// <summary>Releases are made.</summary>
    Importing,

    /// <summary>All rows are in, or known.</summary>
    Done,

    /// <summary>
    /// A row is wrong: nothing was imported. Or the service broke off: what is counted as created is in and stays.
    /// </summary>
    Failed,
}

/// <summary>What is wrong with a row.</summary>
/// <param name="Column">Null when it is the row as a whole.</param>
public sealed record RowError(int Line, string? Column, string Reason);
