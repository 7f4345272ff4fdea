namespace Releasekit.Domain.Releases;

/// <summary>One version of a named list of stages. A release keeps the version it was planned with.</summary>
/// <param name="Id">Chosen by the publisher, unique among its plans, e.g. <c>audio</c>.</param>
/// <param name="Version">Counts from 1; every change of the plan makes the next one.</param>
/// <param name="Stages">In working order, at least one, keys unique, exactly one of them the publication.</param>
public sealed record StagePlan(string Id, string Name, int Version, IReadOnlyList<PlannedStage> Stages)
{
    /// <summary>The stage that is the publication.</summary>
    public PlannedStage Publication => Stages.Single(stage => stage.Publication);
}

/// <summary>One step of the work, as planned.</summary>
/// <param name="Key">Unique in its plan, e.g. <c>rough-cut</c>.</param>
/// <param name="Publication">Whether completing this stage is the publication.</param>
/// <param name="Effort">Working time it is expected to take; null when nobody guessed.</param>
/// <param name="After">Keys of the stages it follows; empty when it can begin at once.</param>
/// <param name="Strict">Those of <paramref name="After"/> without which it may not be completed.</param>
/// <param name="Within">For a follow-up: how long after publication it is due,
/// elapsed time; null when not said.</param>
/// <param name="Checklist">In order; may be empty.</param>
public sealed record PlannedStage(
    string Key,
    string Name,
    bool Publication,
    Duration? Effort,
    IReadOnlyList<string> After,
    IReadOnlyList<string> Strict,
    Duration? Within,
    IReadOnlyList<ChecklistItem> Checklist)
{
    /// <summary>The working time it takes if all goes well; null when only the effort was guessed.</summary>
    public Duration? LeastEffort { get; init; }

    /// <summary>The working time it takes if much goes wrong; null when only the effort was guessed.</summary>
    public Duration? MostEffort { get; init; }
}

/// <summary>A small thing to tick within a stage.</summary>
/// <param name="Key">Unique within the stage; made from the text.</param>
public sealed record ChecklistItem(string Key, string Text)
{
    /// <summary>
    /// A checklist of those texts. Texts that give the same key, as in many scripts they do, are numbered.
    /// </summary>
    public static IReadOnlyList<ChecklistItem> ListOf(IEnumerable<string> texts)
    {
        var keys = new HashSet<string>();

        return [.. texts.Select(text => new ChecklistItem(FreeKey(Wording.KeyOf(text)), text))];

        string FreeKey(string key) => Enumerable
            .Range(1, int.MaxValue)
            .Select(number => number == 1 ? key : $"{key}-{number}")
            .First(keys.Add);
    }
}
