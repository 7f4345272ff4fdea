using Releasekit.Domain.Releases;

namespace Releasekit.Server.Imports;

/// <summary>
/// What a column can tell, such as <c>title</c> or <c>edit.completed</c>, and how columns are called for it.
/// </summary>
internal static class ImportFacts
{
    private static readonly string[] Plain = ["title", "slot_date", "published_at", "external_id"];
    private static readonly string[] Parts = ["started", "completed"];

    /// <summary>
    /// The fact by its one name; null when it is none. The publication has two: its stage's completion, and
    /// <c>published_at</c>.
    /// </summary>
    public static string? Known(string fact, StagePlan plan)
    {
        if (fact == "published_at")
        {
            return $"{plan.Publication.Key}.completed";
        }

        var isStage = fact.Split('.') is [var stage, var part]
            && Parts.Contains(part)
            && plan.Stages.Any(s => s.Key == stage);
        return isStage || Plain.Contains(fact) ? fact : null;
    }

    /// <summary>What a column tells by its name; null when that says nothing.</summary>
    public static string? OfColumn(string column, StagePlan plan)
    {
        foreach (var part in Parts)
        {
            if (column.EndsWith($"_{part}_at", StringComparison.Ordinal)
                && plan.Stages.FirstOrDefault(stage => column == $"{stage.Key}_{part}_at"
                    || column == $"{stage.Key.Replace('-', '_')}_{part}_at") is { } stage)
            {
                return $"{stage.Key}.{part}";
            }
        }

        return Plain.Contains(column) ? Known(column, plan) : null;
    }

    /// <summary>Whether a release can be told of by that alone.</summary>
    public static bool TellsOfARelease(string fact) =>
        fact.EndsWith(".completed", StringComparison.Ordinal) || Plain.Contains(fact);

    /// <summary>All facts, in words.</summary>
    public static string AllOf(StagePlan plan) =>
        $"{string.Join(", ", Plain)} and with .started or .completed a stage of '{plan.Id}' "
        + $"({ColumnFaults.Listed([.. plan.Stages.Select(stage => stage.Key)])})";
}
