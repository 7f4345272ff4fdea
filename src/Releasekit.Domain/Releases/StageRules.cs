namespace Releasekit.Domain.Releases;

/// <summary>The rules that forbid a transition of a stage; null means none does.</summary>
internal static class StageRules
{
    private const int LongestUrl = 2_000;

    public static Refusal? CheckTexts(Stage stage, StageState to, string? note, string? url)
    {
        var needsReason = to is StageState.Skipped or StageState.Blocked || (to is StageState.Ready && stage.IsDone);

        if (needsReason && string.IsNullOrWhiteSpace(note))
        {
            var deed = to switch
            {
                StageState.Skipped => "Skipping",
                StageState.Blocked => "Blocking",
                _ => "Reopening",
            };

            return Refusal.NotAcceptable(
                "reason.needed", $"{deed} '{stage.Plan.Key}' needs a reason: say why in \"note\".", "/note");
        }

        if (Wording.FaultOfText(note, "A note") is { } fault)
        {
            return Refusal.NotAcceptable("note.invalid", fault, "/note");
        }

        return url is null ? null : CheckUrl(stage, to, url);
    }

    private static Refusal? CheckUrl(Stage stage, StageState to, string url)
    {
        if (!stage.Plan.Publication || to is not StageState.Completed)
        {
            return Refusal.NotAcceptable(
                "url.invalid", "A \"url\" goes with the completion of the publication stage only.", "/url");
        }

        return url.Length <= LongestUrl && Uri.TryCreate(url, UriKind.Absolute, out var parsed)
            && parsed.Scheme is "http" or "https"
            && Wording.FaultOfLine(url, "A URL", LongestUrl) is null
                ? null
                : Refusal.NotAcceptable(
                    "url.invalid", "The \"url\" is no web address; write it in full, such as https://example.org/42.",
                    "/url");
    }

    public static Refusal? CheckMove(Release release, Stage stage, StageState to, bool isHistory) => to switch
    {
        StageState.Ready => CheckReady(release, stage),
        _ when stage.IsDone => Done(stage),
        StageState.Skipped when stage.Plan.Publication => new Refusal(
            "stage.publication_not_skippable",
            $"'{stage.Plan.Key}' is the publication and cannot be skipped; drop the release if it will not be "
                + "published."),
        StageState.Completed when !isHistory => CheckStrict(release, stage),
        StageState.Waiting => Refusal.NotAcceptable(
            "stage.waiting",
            "A stage waits by itself while a predecessor is open; \"to\" takes started, completed, skipped, blocked or "
                + "ready.",
            "/to"),
        _ => null,
    };

    /// <summary>Whether an unblocked stage is a started one again by itself.</summary>
    public static bool WasStartedBeforeBlock(Stage stage)
    {
        if (stage.Mark is not StageMark.Blocked)
        {
            return false;
        }

        var unblocked = new StageTransition(0, TransitionKind.Unblocked, Instant.MinValue, Instant.MinValue);
        return (stage with { Transitions = [.. stage.Transitions, unblocked] }).Mark is StageMark.Started;
    }

    private static Refusal? CheckReady(Release release, Stage stage) => stage.Mark switch
    {
        StageMark.Started => new Refusal(
            "stage.started",
            $"'{stage.Plan.Key}' is started; \"ready\" reopens a completed or skipped stage or ends a block. "
            + "Complete, skip or block it, or amend the time it started."),
        StageMark.None => new Refusal(
            "stage.waiting",
            $"'{stage.Plan.Key}' waits for {string.Join(", ", release.OpenBefore(stage).Select(s => s.Plan.Key))}; "
            + "it is ready when these are completed or skipped."),
        _ => null,
    };

    private static Refusal Done(Stage stage) => new(
        "stage.done",
        $"'{stage.Plan.Key}' is {(stage.Mark is StageMark.Completed ? "completed" : "skipped")}; "
        + "reopen it first (\"to\": \"ready\" with a note).");

    private static Refusal? CheckStrict(Release release, Stage stage)
    {
        var open = release.OpenBefore(stage).Select(s => s.Plan.Key).Intersect(stage.Plan.Strict).ToArray();

        return open.Length == 0
            ? null
            : new Refusal(
                "stage.predecessor_open",
                $"'{stage.Plan.Key}' may only be completed after {string.Join(", ", open)}; the plan says so.");
    }
}
