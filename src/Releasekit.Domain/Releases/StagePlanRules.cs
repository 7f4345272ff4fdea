namespace Releasekit.Domain.Releases;

/// <summary>What makes a list of stages a plan: known predecessors, no circle, exactly one publication.</summary>
public static class StagePlanRules
{
    /// <summary>The most stages a plan may have.</summary>
    public const int MostStages = 60;

    /// <summary>
    /// Refuses a plan that cannot be worked: <c>stage_plan.invalid</c>, with a fault for each thing that is wrong.
    /// </summary>
    public static Refusal? Check(StagePlan plan)
    {
        List<Fault> faults = [.. NameFaults(plan)];

        // Stages are compared with each other: beyond the limit that alone would be dear, and it is refused anyway.
        if (plan.Stages.Count <= MostStages)
        {
            faults.AddRange(plan.Stages.SelectMany((stage, i) => FaultsOf(plan, stage, i)));
        }

        if (faults.Count == 0 && Circle(plan) is { } circle)
        {
            faults.Add(new("/stages", $"The stages {string.Join(" → ", circle)} follow each other in a circle; "
                + "remove one of these from the 'after' of another."));
        }

        return faults.Count == 0 ? null : Refusal.NotAcceptable("stage_plan.invalid", faults);
    }

    /// <summary>The keys of the stages that follow the publication, directly or through others.</summary>
    public static IReadOnlySet<string> FollowUps(IReadOnlyList<PlannedStage> stages)
    {
        string[] publication = [.. stages.Where(stage => stage.Publication).Select(stage => stage.Key)];
        var reached = publication.ToHashSet();
        int before;

        // Stages mostly stand in working order, so that one round finds all and a second one finds nothing more.
        do
        {
            before = reached.Count;
            reached.UnionWith(stages.Where(stage => stage.After.Any(reached.Contains)).Select(stage => stage.Key));
        }
        while (reached.Count > before);

        reached.ExceptWith(publication);
        return reached;
    }

    private static IEnumerable<Fault> NameFaults(StagePlan plan)
    {
        if (Wording.FaultOfKey(plan.Id, "The id of a stage plan") is { } id)
        {
            yield return new("/id", id);
        }

        if (Wording.FaultOfLine(plan.Name, "The name of a stage plan") is { } name)
        {
            yield return new("/name", name);
        }

        if (plan.Stages.Count is 0 or > MostStages)
        {
            yield return new(
                "/stages", $"A stage plan has 1 to {MostStages} stages; this one has {plan.Stages.Count}.");
        }

        var publications = plan.Stages.Where(stage => stage.Publication).Select(stage => stage.Key).ToArray();

        if (publications.Length != 1)
        {
            yield return new("/stages", publications.Length == 0
                ? "No stage is the publication; mark one with \"publication\": true."
                : $"Only one stage can be the publication; {string.Join(", ", publications)} are marked.");
        }
    }

    private static IEnumerable<Fault> FaultsOf(StagePlan plan, PlannedStage stage, int index)
    {
        var at = $"/stages/{index}";

        return
        [
            .. KeyFaults(plan, stage, index),
            .. DurationFaults(stage, at),
            .. EdgeFaults(plan, stage, at),
            .. ChecklistFaults(stage, at),
        ];
    }

    private static IEnumerable<Fault> KeyFaults(StagePlan plan, PlannedStage stage, int index)
    {
        var at = $"/stages/{index}";

        if (Wording.FaultOfKey(stage.Key, "The key of a stage") is { } key)
        {
            yield return new($"{at}/key", key);
        }

        if (plan.Stages.Take(index).Any(earlier => earlier.Key == stage.Key))
        {
            yield return new($"{at}/key", $"There are two stages '{stage.Key}'; every key may stand once.");
        }

        if (Wording.FaultOfLine(stage.Name, "The name of a stage") is { } name)
        {
            yield return new($"{at}/name", name);
        }
    }

    private static IEnumerable<Fault> DurationFaults(PlannedStage stage, string at)
    {
        if (stage.Effort < Duration.Zero)
        {
            yield return new($"{at}/effort", $"The effort of '{stage.Key}' is negative; give a duration such as PT2H.");
        }

        if ((stage.LeastEffort is not null || stage.MostEffort is not null)
            && !(Duration.Zero <= stage.LeastEffort && stage.LeastEffort <= stage.Effort
                && stage.Effort <= stage.MostEffort))
        {
            yield return new(
                $"{at}/leastEffort",
                $"The guesses of '{stage.Key}' are three and rise: 'leastEffort', 'effort', 'mostEffort'.");
        }

        if (stage.Within < Duration.Zero)
        {
            yield return new(
                $"{at}/within", $"'{stage.Key}' cannot be due before publication; give a duration such as P1D.");
        }
    }

    private static IEnumerable<Fault> EdgeFaults(StagePlan plan, PlannedStage stage, string at)
    {
        foreach (var unknown in stage.After.Where(after => plan.Stages.All(other => other.Key != after)))
        {
            yield return new($"{at}/after", $"'{stage.Key}' comes after '{unknown}', which is no stage of this plan.");
        }

        foreach (var loose in stage.Strict.Except(stage.After))
        {
            yield return new($"{at}/strict", $"'{loose}' is strict for '{stage.Key}' but not in its 'after'.");
        }
    }

    private static IEnumerable<Fault> ChecklistFaults(PlannedStage stage, string at)
    {
        foreach (var item in stage.Checklist)
        {
            if (Wording.FaultOfLine(item.Text, "A checklist item") is { } text)
            {
                yield return new($"{at}/checklist", text);
            }
        }

        foreach (var twice in stage.Checklist
            .GroupBy(item => item.Text, StringComparer.OrdinalIgnoreCase)
            .Where(group => group.Count() > 1))
        {
            yield return new($"{at}/checklist", $"The checklist of '{stage.Key}' has '{twice.First().Text}' twice.");
        }
    }

    /// <summary>The keys of one circle, closed by its first key; null when the stages can be put in order.</summary>
    private static List<string>? Circle(StagePlan plan)
    {
        var left = plan.Stages.ToDictionary(stage => stage.Key, stage => stage.After);

        while (left.FirstOrDefault(entry => !entry.Value.Any(left.ContainsKey)) is { Key: { } free })
        {
            left.Remove(free);
        }

        if (left.Count == 0)
        {
            return null;
        }

        List<string> walk = [left.Keys.First()];

        while (true)
        {
            var before = left[walk[^1]].First(left.ContainsKey);
            var seen = walk.IndexOf(before);

            if (seen >= 0)
            {
                return [before, .. walk.Skip(seen).Reverse()];
            }

            walk.Add(before);
        }
    }
}
