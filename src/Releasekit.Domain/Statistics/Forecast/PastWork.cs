using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// What published releases took, stage by stage: one row for each release, kept whole, as a release that is long in one
/// stage is often long in others.
/// </summary>
/// <param name="Stages">Keys, the columns.</param>
/// <param name="Rows">Working hours by release and stage; a skipped stage took 0.</param>
/// <param name="LeftOut">Published releases that cannot tell: without one of the stages, or with no time told of it.
/// </param>
/// <param name="StartsTaken">
/// Rows in which a stage was ticked without a start, which is then taken from the tick before it; see
/// <see cref="StageSpells"/>.
/// </param>
public sealed record PastWork(
    IReadOnlyList<string> Stages, IReadOnlyList<IReadOnlyList<double>> Rows, int LeftOut, int StartsTaken = 0)
{
    /// <summary>The releases of the rows, in the same order.</summary>
    public IReadOnlyList<ReleaseFacts> Releases { get; init; } = [];

    /// <summary>The past of these releases.</summary>
    /// <param name="facts">Of the series; only the published count.</param>
    /// <param name="stages">Keys of all stages that lie ahead of open releases.</param>
    /// <param name="worked">What went into them.</param>
    public static PastWork Of(IEnumerable<ReleaseFacts> facts, IReadOnlyList<string> stages, WorkedHours worked)
    {
        (ReleaseFacts Facts, double[]? Row, bool IsTaken)[] rows =
        [
            .. facts.Where(one => one.PublishedAt is not null)
                .OrderBy(one => one.PublishedAt)
                .Select(one => (one, RowOf(one, stages, worked, out var isTaken), isTaken)),
        ];
        return new(
            stages,
            [.. rows.Select(row => row.Row).OfType<double[]>()],
            rows.Count(row => row.Row is null),
            rows.Count(row => row is { Row: not null, IsTaken: true }))
        {
            Releases = [.. rows.Where(row => row.Row is not null).Select(row => row.Facts)],
        };
    }

    private static double[]? RowOf(
        ReleaseFacts release, IReadOnlyList<string> stages, WorkedHours worked, out bool isTaken)
    {
        isTaken = false;
        var row = new double[stages.Count];
        for (var i = 0; i < row.Length; i++)
        {
            var stage = release.Stages.FirstOrDefault(one => one.Key == stages[i]);
            if (stage is null || !CanTell(release, stage, worked, ref isTaken))
            {
                return null;
            }

            row[i] = stage.IsSkipped ? 0 : worked.On(release.Release, stage.Key);
        }

        return row;
    }

    // The publication is an act: done without a start, it took nothing.
    private static bool CanTell(ReleaseFacts release, StageFacts stage, WorkedHours worked, ref bool isTaken)
    {
        if (stage.IsSkipped || stage.Role is StageRole.Publication)
        {
            return true;
        }

        var isTold = stage.CompletedAt is not null & worked.IsTold(release, stage, out var taken);
        isTaken |= taken;
        return isTold;
    }
}
