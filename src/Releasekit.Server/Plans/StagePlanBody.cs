using Releasekit.Domain.Releases;
using Releasekit.Server.Http;

namespace Releasekit.Server.Plans;

/// <param name="Id">The slug that the publisher chose.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Version">Counts from 1; each change makes the next one.</param>
/// <param name="Stages">In working order.</param>
internal sealed record StagePlanBody(
    string Id, string Name, int Version, IReadOnlyList<PlannedStageBody> Stages) : ITagged
{
    public static StagePlanBody Of(StagePlan plan) => new(
        plan.Id, plan.Name, plan.Version, [.. plan.Stages.Select(PlannedStageBody.Of)]);
}

/// <param name="Key">Lower-case letters, digits and hyphens, unique in the plan.</param>
/// <param name="Name">Made from the key when left out.</param>
/// <param name="Publication">True for the one stage that is the publication.</param>
/// <param name="Effort">Working time, ISO 8601, e.g. PT2H.</param>
/// <param name="LeastEffort">Working time if all goes well; with "mostEffort" or not at all.</param>
/// <param name="MostEffort">Working time if much goes wrong. Forecasts rest on these three guesses, named as such,
/// until five releases were published.</param>
/// <param name="After">
/// Keys of the stages it follows. Left out: the stage before it in the list; an empty list: none.
/// </param>
/// <param name="Strict">Those of "after" without which it may not be completed.</param>
/// <param name="Within">For a follow-up: due so long after publication, ISO 8601, a day being 24 hours.</param>
/// <param name="Checklist">Small things to tick, in order; none when left out.</param>
internal sealed record PlannedStageBody(
    string Key,
    string? Name = null,
    bool Publication = false,
    Duration? Effort = null,
    Duration? LeastEffort = null,
    Duration? MostEffort = null,
    IReadOnlyList<string>? After = null,
    IReadOnlyList<string>? Strict = null,
    Duration? Within = null,
    IReadOnlyList<string>? Checklist = null)
{
    public static PlannedStageBody Of(PlannedStage stage) => new(
        stage.Key,
        stage.Name,
        stage.Publication,
        stage.Effort,
        stage.LeastEffort,
        stage.MostEffort,
        stage.After,
        stage.Strict,
        stage.Within,
        [.. stage.Checklist.Select(item => item.Text)]);

    /// <summary>The stages as planned; each one without "after" follows the one before it.</summary>
    public static IReadOnlyList<PlannedStage> ToStages(IReadOnlyList<PlannedStageBody> stages) =>
    [
        .. stages.Select((stage, i) => new PlannedStage(
            stage.Key,
            stage.Name ?? stage.Key,
            stage.Publication,
            stage.Effort,
            stage.After ?? (i == 0 ? [] : [stages[i - 1].Key]),
            stage.Strict ?? [],
            stage.Within,
            ChecklistItem.ListOf(stage.Checklist ?? []))
        {
            LeastEffort = stage.LeastEffort,
            MostEffort = stage.MostEffort,
        }),
    ];
}
