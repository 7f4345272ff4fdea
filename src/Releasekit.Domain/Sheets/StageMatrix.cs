using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Sheets;

/// <summary>Releases by stages: one line for each release, one column for each stage of the plan they share.</summary>
/// <param name="Columns">In working order.</param>
/// <param name="Rows">By slot; those without one last, in the order they were planned.</param>
public sealed record StageMatrix(IReadOnlyList<MatrixColumn> Columns, IReadOnlyList<MatrixRow> Rows)
{
    /// <summary>
    /// One matrix for each set of stages among <paramref name="releases"/>, the one with the most releases first.
    /// </summary>
    internal static IReadOnlyList<StageMatrix> Of(SheetFacts facts, IEnumerable<Release> releases) =>
    [
        .. releases
            .OrderBy(release => facts.OwedAt(release) ?? Instant.MaxValue)
            .ThenBy(release => release.PlannedAt)
            .GroupBy(release => string.Join('\n', release.Stages.Select(NameOf)))
            .OrderByDescending(group => group.Count())
            .Select(group => new StageMatrix(
                [.. group.First().Stages.Select(MatrixColumn.Of)],
                [.. group.Select(release => MatrixRow.Of(facts, release))])),
    ];

    private static string NameOf(Stage stage) => $"{stage.Plan.Key}\t{stage.Plan.Name}";
}

/// <param name="Stage">The key of the stage.</param>
/// <param name="Name">Its name.</param>
/// <param name="Publication">Whether it is the publication.</param>
public sealed record MatrixColumn(string Stage, string Name, bool Publication)
{
    internal static MatrixColumn Of(Stage stage) => new(stage.Plan.Key, stage.Plan.Name, stage.Plan.Publication);
}

/// <param name="Release">The id of the release.</param>
/// <param name="Title">Its title.</param>
/// <param name="Series">The id of its series.</param>
/// <param name="SeriesTitle">The title of its series.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Slot">The original local date of its slot; null without one.</param>
/// <param name="SlotAt">Where that slot stands, UTC; null without one and when nothing is owed for it.</param>
/// <param name="SlotOn">The publisher's local date of that; null likewise.</param>
/// <param name="SlotState">What became of the slot; null without one.</param>
/// <param name="Marks">One for each column.</param>
public sealed record MatrixRow(
    Guid Release,
    string Title,
    string Series,
    string SeriesTitle,
    ReleaseState State,
    LocalDate? Slot,
    Instant? SlotAt,
    LocalDate? SlotOn,
    SlotStatus? SlotState,
    IReadOnlyList<MatrixMark> Marks)
{
    internal static MatrixRow Of(SheetFacts facts, Release release)
    {
        var owedAt = facts.OwedAt(release);

        return new(
            release.Id,
            release.Title,
            release.Series,
            facts.TitleOf(release.Series),
            release.State,
            release.HeldSlot,
            owedAt,
            owedAt is { } at ? facts.DateOf(at) : null,
            release.HeldSlot is { } date ? facts.SlotOf(release.Series, date)?.Outcome.Status : null,
            [
                .. release.Stages.Select(stage => new MatrixMark(
                    stage.Plan.Key, release.StateOf(stage), stage.CompletedAt, stage.Latest?.Note)),
            ]);
    }
}

/// <param name="Stage">The key of the stage.</param>
/// <param name="State">Where it stands.</param>
/// <param name="CompletedAt">When it was completed, UTC; null while it is not.</param>
/// <param name="Note">What was said with its latest transition; null when nothing was.</param>
public sealed record MatrixMark(string Stage, StageState State, Instant? CompletedAt, string? Note);
