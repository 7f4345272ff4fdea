using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Tests.Releases;

/// <summary>An episode of Mudflat Weekly and what can have happened to it.</summary>
internal static class Mudflat
{
    public static readonly Guid Id = new("0197a5c0-0000-7000-8000-000000000012");

    public static readonly Instant PlannedAt = Instant.FromUtc(2026, 3, 2, 9, 0);
    public static readonly Instant Now = Instant.FromUtc(2026, 3, 9, 12, 0);
    public static readonly LocalDate Slot = new(2026, 3, 12);

    public static readonly StagePlan Plan = new("audio", "Audio", 1,
    [
        Stage("outline"),
        Stage("recording", after: "outline"),
        Stage("final-mix", after: "recording", strict: true) with
        {
            Checklist = [new("levels-even", "Levels even"), new("noise-cut", "Noise cut")],
        },
        Stage("show-notes", after: "outline"),
        Stage("publish", after: "final-mix", publication: true),
        Stage("announce", after: "publish", within: Duration.FromDays(1)),
        Stage("reader-letter", after: "announce", within: Duration.FromDays(2)),
    ]);

    public static readonly ReleasePlanned Planned = new(
        Id, "mudflat-weekly", "No. 12", Plan.Id, Plan.Version, Plan.Stages, null, PlannedAt, PlannedAt);

    public static PlannedStage Stage(
        string key, string? after = null, bool strict = false, bool publication = false, Duration? within = null) =>
            new(
            key, key, publication, null, after is null ? [] : [after], strict ? [after!] : [], within, []);

    public static Instant At(int hours) => PlannedAt + Duration.FromHours(hours);

    public static StageStarted Started(string stage, int at = 1) => new(stage, null, At(at), At(at));

    public static StageCompleted Completed(string stage, int at = 2, bool outOfOrder = false) =>
        new(stage, stage == "publish", outOfOrder, null, null, At(at), At(at));

    public static StageSkipped Skipped(string stage, int at = 2) => new(stage, "no time", At(at), At(at));

    public static StageBlocked Blocked(string stage, int at = 3) => new(stage, "rain", At(at), At(at));

    public static StageUnblocked Unblocked(string stage, int at = 4) => new(stage, null, At(at), At(at));

    public static StageReopened Reopened(string stage, int at = 4) =>
        new(stage, stage == "publish", "wrong tick", At(at), At(at));

    /// <summary>Everything up to the publication done, one stage an hour.</summary>
    public static IEnumerable<ReleaseEvent> Made =>
    [
        Planned,
        Completed("outline", 1), Completed("recording", 2), Completed("final-mix", 3), Completed("show-notes", 4),
    ];

    /// <summary>Made, and published at hour 5.</summary>
    public static IEnumerable<ReleaseEvent> Published => [.. Made, Completed("publish", 5)];

    public static Release After(params IEnumerable<ReleaseEvent> events) => Story.OfRelease.Given(events).State!;

    /// <summary>Everything of a release but its counters, as text that tells where two differ.</summary>
    public static string Picture(Release? release) => release is null ? "none" : string.Join('\n',
    [
        $"{release.Id} {release.Series} {release.Title} {release.StagePlan} {release.PlanVersion} {release.PlannedAt}",
        $"{release.Slot} {release.HeldSlot} {release.PublishedAt} {release.Url} {release.DroppedFor} "
            + $"{release.ExternalId}",
        $"{release.State} {string.Join(' ', release.OpenStages)}",
        .. release.Stages.Select(stage =>
            $"{stage.Plan.Key} {stage.Plan.Publication} {release.StateOf(stage)} {stage.StartedAt} {stage.CompletedAt} "
            + $"[{string.Join(' ', stage.Ticked.Order())}] {string.Join(", ", stage.Transitions)}"),
    ]);
}
