namespace Releasekit.Server.Imports;

/// <summary>An import from upload to end, kept so that it can be looked at and taken up again after a crash.</summary>
/// <param name="Series">The slug of the series whose releases are imported.</param>
/// <param name="Rows">Rows of the file, header not counted.</param>
internal sealed record ImportRun(
    Guid Id,
    string Publisher,
    string Series,
    bool DryRun,
    ImportState State,
    int Rows,
    IReadOnlyList<string> IgnoredColumns,
    Instant StartedAt)
{
    public const int MostErrorsKept = 1_000;

    /// <summary>Rows looked at so far.</summary>
    public int Checked { get; init; }

    /// <summary>Releases made so far; with a dry run: that would be made.</summary>
    public int Created { get; init; }

    /// <summary>Rows that were known already.</summary>
    public int Unchanged { get; init; }

    /// <summary>The first of them, in the order of lines.</summary>
    public IReadOnlyList<RowError> Errors { get; init; } = [];

    /// <summary>All of them.</summary>
    public int ErrorCount { get; init; }

    public Instant? FinishedAt { get; init; }

    public bool IsOver => State is ImportState.Done or ImportState.Failed;

    public ImportRun With(IReadOnlyCollection<RowError> found) => this with
    {
        Errors = [.. Errors.Concat(found).OrderBy(error => error.Line).Take(MostErrorsKept)],
        ErrorCount = ErrorCount + found.Count,
    };
}

/// <summary>Where an import stands.</summary>
internal enum ImportState
{
    /// <summary>Uploaded.</summary>
    Waiting,

    /// <summary>Every row is checked before any is imported.</summary>
    Checking,

    /// <summary>Releases are made, some hundred at a time.</summary>
    Importing,

    /// <summary>All rows are in, or known; after a dry run: would be.</summary>
    Done,

    /// <summary>At least one row is wrong: nothing was imported.</summary>
    Failed,
}

/// <summary>What is wrong with a row.</summary>
/// <param name="Line">Line of the file where the row begins, the header being line 1.</param>
/// <param name="Column">The column's name; null when it is the row as a whole.</param>
internal sealed record RowError(int Line, string? Column, string Reason);
