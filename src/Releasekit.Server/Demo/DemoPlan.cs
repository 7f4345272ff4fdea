using Releasekit.Server.Plans;

namespace Releasekit.Server.Demo;

/// <summary>The stage plan of the demo's series, as a publisher would send it.</summary>
internal static class DemoPlan
{
    public const string Id = "audio-episode";
    private const string Name = "Audio episode";

    /// <summary>As it began: without a transcript.</summary>
    public static CreateStagePlanRequest First => new(Id, Stages(withTranscript: false), Name);

    /// <summary>As it is since: listeners asked for transcripts.</summary>
    public static ReplaceStagePlanRequest Second => new(Stages(withTranscript: true), Name);

    private static PlannedStageBody[] Stages(bool withTranscript) =>
    [
        Stage("outline", "Outline", 90),
        Stage("field-recording", "Field recording", 180, "outline") with
        {
            Checklist = ["batteries charged", "wind shield packed", "tide times checked"],
        },
        Stage("rough-cut", "Rough cut", 150, "field-recording"),
        Stage("final-mix", "Final mix", 120, "rough-cut") with
        {
            Checklist = ["loudness measured", "listened to on headphones"],
        },
        Stage("show-notes", "Show notes", 45, "final-mix"),
        .. withTranscript ? new[] { Stage("transcript", "Transcript", 60, "final-mix") } : [],
        Stage(
            "publish", "Publish", 10, withTranscript
                ? ["show-notes", "transcript"]
                : ["show-notes"]) with { Publication = true },
        Stage("announce", "Announce", 20, "publish") with { Within = Duration.FromHours(12) },
        Stage("site-page", "Site page", 40, "publish") with { Within = Duration.FromHours(24) },
        Stage("reader-letter", "Reader letter", 60, "publish") with { Within = Duration.FromHours(48) },
    ];

    private static PlannedStageBody Stage(string key, string name, int minutes, params string[] after) =>
        new(key, name, Effort: Duration.FromMinutes(minutes), After: after);
}
