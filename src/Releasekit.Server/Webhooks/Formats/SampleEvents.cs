using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Work;
using Releasekit.Server.Events;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// One event of each type, to try a template on before anything happened. They are made by what makes the real ones, so
/// that they have the same members.
/// </summary>
internal static class SampleEvents
{
    private const string Url = "https://mudflat.example/104";
    private const string Reason = "The hydrophone drowned; a new one comes on Monday.";

    private static readonly Guid Recorded = Guid.Parse("019cb5c0-0000-7000-8000-000000000001");
    private static readonly Guid TheRelease = Guid.Parse("019cb5c0-0000-7000-8000-000000000002");
    private static readonly Guid TheProject = Guid.Parse("019cb5c0-0000-7000-8000-000000000003");
    private static readonly Guid TheTask = Guid.Parse("019cb5c0-0000-7000-8000-000000000004");
    private static readonly LocalDate Slot = new(2026, 3, 5);
    private static readonly Instant SlotAt = Instant.FromUtc(2026, 3, 5, 7, 0);
    private static readonly Instant Planned = Instant.FromUtc(2026, 2, 20, 9, 0);
    private static readonly Instant At = Instant.FromUtc(2026, 3, 4, 18, 30);

    private static readonly PlannedStage[] Stages =
    [
        Stage("outline", "Outline"), Stage("field-recording", "Field recording"), Stage("rough-cut", "Rough cut"),
        Stage("publish", "Publish", publication: true), Stage("reader-letter", "Reader letter"),
    ];

    private static readonly ReleasePlanned Plan = new(
        TheRelease, "mudflat-weekly", "Eelgrass, counted by hand", "episode", 1, Stages, null, Planned, Planned);

    private static readonly Dictionary<string, EnvelopeBody> ByType =
        OfReleases().Concat(OfProjects()).Concat(OfReminders()).ToDictionary(told => told.Type);

    /// <summary>The sample of a type; null for a type that has none.</summary>
    public static EnvelopeBody? Of(string type) => ByType.GetValueOrDefault(type) is { } sample
        ? sample with { Data = (System.Text.Json.Nodes.JsonObject)sample.Data.DeepClone() }
        : null;

    private static IEnumerable<EnvelopeBody> OfReleases()
    {
        var assigned = new SlotAssigned(Slot, Planned, Planned);
        ReleaseEvent[] made = [assigned, Done("outline"), Done("field-recording"), Done("rough-cut")];
        ReleaseEvent[] published = [.. made, Done("publish", publication: true)];

        return
        [
            Told("release.planned"),
            Told("stage.started", assigned, new StageStarted("outline", null, At, At)),
            Told("stage.completed", assigned, Done("outline")),
            Told("stage.skipped", assigned, new StageSkipped("outline", "A repeat needs none.", At, At)),
            Told("stage.blocked", assigned, new StageBlocked("field-recording", Reason, At, At)),
            Told(
                "stage.unblocked", assigned, new StageBlocked("field-recording", Reason, At, At),
                new StageUnblocked("field-recording", "It came on Saturday.", At, At)),
            Told(
                "stage.reopened", assigned, Done("outline"),
                new StageReopened("outline", false, "The storm changed the story.", At, At)),
            Told("release.finished", made),
            Told("release.published", published),
            Told("release.unpublished", [.. published, new StageReopened("publish", true, "A wrong tick.", At, At)]),
            Told("release.dropped", assigned, new ReleaseDropped("No boat this winter.", At, At)),
        ];

        StageCompleted Done(string stage, bool publication = false) =>
            new(stage, publication, false, null, publication ? Url : null, At, At);
    }

    private static IEnumerable<EnvelopeBody> OfProjects()
    {
        var started = new ProjectStarted(
            "An atlas of 40 places, each with a recording.", new(2026, 6, 30), Planned, Planned);
        var before = Project.Evolve(
            null, 1, new ProjectProposed(TheProject, "Estuary sound atlas", 3, null, Planned, Planned));
        var running = Project.Evolve(before, 2, started);
        var finished = Project.Evolve(running, 3, new ProjectFinished("41 places in the end.", At, At));

        return
        [
            EnvelopeBody.Of(Recorded, 2, null, "project.started", Planned, Planned, Messages.DataOf(running)),
            EnvelopeBody.Of(Recorded, 3, null, "project.finished", At, At, Messages.DataOf(finished)),
        ];
    }

    private static IEnumerable<EnvelopeBody> OfReminders()
    {
        var stage = new ReminderFacts(
            TheRelease, Plan.Series, "rough-cut", "Rough cut", Slot, SlotAt, SlotAt - Duration.FromHours(14));
        var slot = new ReminderFacts(TheRelease, Plan.Series, Slot: Slot, SlotAt: SlotAt);
        var (release, series) = ($"/v1/releases/{TheRelease}", $"/v1/series/{Plan.Series}/slots/2026-03-05");

        return
        [
            Told(ReminderType.StageDueSoon, $"{release}/stages/rough-cut", Plan.Title, stage),
            Told(ReminderType.StageOverdue, $"{release}/stages/rough-cut", Plan.Title, stage),
            Told(ReminderType.SlotAtRisk, series, Plan.Title, slot),
            Told(ReminderType.SlotMissed, series, Plan.Title, slot),
            Told(
                ReminderType.TaskDue, $"/v1/tasks/{TheTask}", "Quarterly tax return",
                new(Task: TheTask, When: "2026-03", Important: true, Personal: false)),
            Told(
                ReminderType.ProjectOverdue, $"/v1/projects/{TheProject}", "Estuary sound atlas",
                new(Project: TheProject, FinishBy: new LocalDate(2026, 3, 3))),
        ];
    }

    /// <summary>The last event of a release; the plan alone where no other is given.</summary>
    private static EnvelopeBody Told(string type, params ReleaseEvent[] history)
    {
        ReleaseEvent[] all = [Plan, .. history];
        var after = all.Select((happened, i) => (happened, Sequence: i + 1)).Aggregate(
            (Release?)null, (state, one) => Release.Evolve(state, one.Sequence, one.happened))!;

        return EnvelopeBody.Of(
            Recorded, all.Length, null, type, all[^1].OccurredAt, all[^1].RecordedAt, Messages.DataOf(all[^1], after));
    }

    private static EnvelopeBody Told(ReminderType type, string subject, string title, ReminderFacts facts) =>
        EnvelopeBody.Of(
            Recorded, 12, null, Messages.TypeOf(type), At, At,
            Messages.DataOf(new ReminderRaised(type, subject, "sample", title, facts, false, At, At)));

    private static PlannedStage Stage(string key, string name, bool publication = false) =>
        new(key, name, publication, null, [], [], null, []);
}
