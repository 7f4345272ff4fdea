using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using NodaTime.Text;

namespace Releasekit.Domain.Releases;

/// <summary>
/// What was done to a release, as one line of text beside its document: enough to count over thousands of releases
/// without reading them whole. Left out are titles, names, notes, checklists and addresses.
/// </summary>
/// <remarks>
/// Head, plan and stages stand apart by bars: <c>planned|slot|dropped|plan|version|stages of the plan|transitions</c>.
/// Instants are ticks of 100 ns: the first since 1970, the others since the first.
/// </remarks>
public static class ReleaseTrace
{
    private const string Kinds = "SCKRBU";

    private static readonly LocalDatePattern Date = LocalDatePattern.Iso;

    // Releases of a series share a plan: it is read once.
    private static readonly ConcurrentDictionary<string, PlannedStage[]> Plans = new();

    private const int MostPlans = 1_000;

    /// <summary>The trace of a release.</summary>
    public static string Of(Release release)
    {
        var planned = release.PlannedAt.ToUnixTimeTicks();
        var line = new StringBuilder()
            .Append(CultureInfo.InvariantCulture, $"{planned}|{(release.Slot is { } slot ? Date.Format(slot) : "")}|")
            .Append(CultureInfo.InvariantCulture, $"{release.DroppedAt?.ToUnixTimeTicks() - planned}|")
            .Append(CultureInfo.InvariantCulture, $"{release.StagePlan}|{release.PlanVersion}|");
        string[] keys = [.. release.Stages.Select(stage => stage.Plan.Key)];
        line.AppendJoin(';', release.Stages.Select(stage => WrittenPlan(stage.Plan, keys))).Append('|');
        line.AppendJoin(';', release.Stages.Select(stage => string.Join(',', stage.Transitions.Select(
            t => string.Create(
                CultureInfo.InvariantCulture, $"{Kinds[(int)t.Kind]}{t.At.ToUnixTimeTicks() - planned}")))));

        return line.ToString();
    }

    /// <summary>The release as far as its trace tells; names are keys, and what is left out is empty.</summary>
    public static Release Read(Guid id, string series, string trace)
    {
        var parts = trace.Split('|');
        var planned = long.Parse(parts[0], CultureInfo.InvariantCulture);
        var plan = PlanOf(parts[5]);
        var done = parts[6].Split(';');
        Instant? dropped = parts[2].Length == 0 ? null : At(planned, parts[2]);

        return new Release
        {
            Id = id,
            Series = series,
            Title = string.Empty,
            StagePlan = parts[3],
            PlanVersion = int.Parse(parts[4], CultureInfo.InvariantCulture),
            Stages = [.. plan.Select((stage, i) => new Stage(stage, TransitionsOf(planned, done[i]), []))],
            PlannedAt = Instant.FromUnixTimeTicks(planned),
            Slot = parts[1].Length == 0 ? null : Date.Parse(parts[1]).Value,
            DroppedAt = dropped,
            DroppedFor = dropped is null ? null : string.Empty,
        }.Settle();
    }

    private static string WrittenPlan(PlannedStage stage, string[] keys) => string.Create(
        CultureInfo.InvariantCulture,
        $"{stage.Key},{(stage.Publication ? "1" : "")},{stage.Effort?.BclCompatibleTicks},"
        + $"{string.Join('.', stage.After.Select(after => Array.IndexOf(keys, after)))}");

    private static PlannedStage[] PlanOf(string written)
    {
        if (Plans.TryGetValue(written, out var known))
        {
            return known;
        }

        var stages = written.Split(';').Select(stage => stage.Split(',')).ToArray();
        PlannedStage[] plan =
        [
            .. stages.Select(stage => new PlannedStage(
                stage[0],
                stage[0],
                stage[1].Length > 0,
                stage[2].Length == 0 ? null : Duration.FromTicks(long.Parse(stage[2], CultureInfo.InvariantCulture)),
                [
                    .. stage[3].Split('.', StringSplitOptions.RemoveEmptyEntries)
                        .Select(index => int.Parse(index, CultureInfo.InvariantCulture))
                        .Where(index => index >= 0)
                        .Select(index => stages[index][0]),
                ],
                [],
                null,
                [])),
        ];

        if (Plans.Count < MostPlans)
        {
            Plans[written] = plan;
        }

        return plan;
    }

    private static StageTransition[] TransitionsOf(long planned, ReadOnlySpan<char> written)
    {
        if (written.IsEmpty)
        {
            return [];
        }

        var transitions = new StageTransition[written.Count(',') + 1];
        var count = 0;
        foreach (var part in written.Split(','))
        {
            var one = written[part];
            var at = At(planned, one[1..]);
            transitions[count++] = new(0, (TransitionKind)Kinds.IndexOf(one[0], StringComparison.Ordinal), at, at);
        }

        return transitions;
    }

    private static Instant At(long planned, ReadOnlySpan<char> ticks) =>
        Instant.FromUnixTimeTicks(planned + long.Parse(ticks, CultureInfo.InvariantCulture));
}
