namespace Releasekit.Server.Imports;

/// <summary>
/// An import from upload to end, kept so that it can be looked at and taken up again after a crash. It changes with
/// every batch, in the batch's own transaction.
/// </summary>
/// <param name="Series">The slug of the series whose releases are imported; empty for other kinds.</param>
/// <param name="StagePlan">The plan whose stages the columns name.</param>
/// <param name="PlanVersion">The version it had at the upload: what was checked by it is taken in by it.</param>
/// <param name="Rows">Rows of the file, header not counted.</param>
/// <param name="SlotColumn">What the file calls the column of slots; null when it has none.</param>
internal sealed record ImportRun(
    Guid Id,
    string Publisher,
    string Series,
    string StagePlan,
    int PlanVersion,
    bool DryRun,
    ImportState State,
    int Rows,
    IReadOnlyList<string> IgnoredColumns,
    string? SlotColumn,
    Instant StartedAt)
{
    public const int MostErrorsKept = 1_000;

    /// <summary>The kind that needs a series.</summary>
    public const string Releases = "releases";

    public static readonly ImportState[] UnfinishedStates =
        [ImportState.Waiting, ImportState.Checking, ImportState.Importing];

    /// <summary>What the rows tell of: releases, ideas and so on.</summary>
    public string Kind { get; init; } = Releases;

    /// <summary>The last staged row of the state's batches so far; 0 before the first.</summary>
    public int LastRow { get; init; }

    /// <summary>Rows looked at so far.</summary>
    public int Checked { get; init; }

    /// <summary>Releases made so far; with a dry run: that would be made. Of a failed run, too.</summary>
    public int Created { get; init; }

    /// <summary>Rows that were known already.</summary>
    public int Unchanged { get; init; }

    /// <summary>The first of them, in the order of lines.</summary>
    public IReadOnlyList<RowError> Errors { get; init; } = [];

    /// <summary>All of them.</summary>
    public int ErrorCount { get; init; }

    public Instant? FinishedAt { get; init; }

    public bool IsOver => State is ImportState.Done or ImportState.Failed;

    /// <summary>The run with more errors, of which the first lines' are kept.</summary>
    /// <param name="all">How many were found, where <paramref name="found"/> holds the first of them only.</param>
    public ImportRun With(IReadOnlyCollection<RowError> found, int? all = null) => found.Count == 0 ? this : this with
    {
        Errors = [.. Errors.Concat(found).OrderBy(error => error.Line).Take(MostErrorsKept)],
        ErrorCount = ErrorCount + (all ?? found.Count),
    };

    public ImportRun Ended(ImportState state, Instant now) => this with { State = state, FinishedAt = now };
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

    /// <summary>
    /// At least one row is wrong: nothing was imported. Or something broke here: what is counted as created was.
    /// </summary>
    Failed,
}

/// <summary>What is wrong with a row.</summary>
/// <param name="Line">Line of the file where the row begins, the header being line 1.</param>
/// <param name="Column">The column's name; null when it is the row as a whole.</param>
internal sealed record RowError(int Line, string? Column, string Reason);
