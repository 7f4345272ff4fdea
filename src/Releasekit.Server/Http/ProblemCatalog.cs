namespace Releasekit.Server.Http;

/// <summary>A kind of problem as it is published under <c>/docs/problems/{code}</c>.</summary>
/// <param name="Title">The same for every problem of this kind.</param>
/// <param name="Meaning">When it is answered and what to do, for the page that documents it.</param>
internal sealed record ProblemKind(string Code, int Status, string Title, string Meaning);

/// <summary>Every kind of problem the service answers with. Codes are published and never reused.</summary>
internal static class ProblemCatalog
{
    public static readonly IReadOnlyList<ProblemKind> Kinds =
    [
        new("malformed", 400, "The request cannot be read",
            "The body is no JSON, holds a member that does not exist here, or a value of the wrong kind. Nothing was "
                + "changed."),
        new("query-invalid", 400, "A query parameter is wrong",
            "A parameter is unknown here, stands twice or has a value that cannot be read. The detail names it."),
        new("cursor-invalid", 400, "The cursor does not fit",
            "A cursor goes with the filters it was given out for. Begin without a cursor when the filters change."),
        new("unauthenticated", 401, "A token is needed",
            "Send Authorization: Bearer with a token of this service. A token that is unknown or revoked is answered "
                + "the same way."),
        new("forbidden", 403, "The token may not do this", "The token lacks the scope that the detail names."),
        new("not-found", 404, "Not found",
            "Nothing of yours is at this address. Another publisher's things are answered the same way."),
        new("method-not-allowed", 405, "The method does not go with this address",
            "The Allow header lists those that do."),
        new("exists", 409, "It exists already", "The id is taken; choose another, or change the one that exists."),
        new("in-use", 409, "It is in use", "Something still refers to it; the detail says what."),
        new("busy", 409, "Changed by others at the same time",
            "Several attempts met other changes each time. Repeat the request."),
        new("idempotency.running", 409, "The first request still runs",
            "A request with this Idempotency-Key has not been answered yet. Repeat it in a moment."),
        new("precondition-failed", 412, "Changed meanwhile",
            "If-Match names another version. Read it again and repeat the change."),
        new("too-large", 413, "The body is too large", "1 MiB at most; 64 MiB for an import."),
        new("unsupported-media-type", 415, "The body is of another kind",
            "Send application/json in UTF-8, uncompressed; for PATCH application/merge-patch+json; for imports "
                + "text/csv."),
        new("invalid", 422, "The values are not acceptable",
            "The request was understood; the errors say which values would be right."),
        new("idempotency.reused", 422, "The key was used for another request",
            "An Idempotency-Key goes with one request. Take a new key for a new request."),
        new("precondition-required", 428, "If-Match is needed",
            "A change of this thing names the version it was made for: send the ETag of your last GET in If-Match."),
        new("too-many-failures", 429, "Too many wrong tokens",
            "This address sent many wrong tokens. Right ones are still served. Retry-After says when to try again."),
        new("unavailable", 503, "The database does not answer",
            "Whether anything was changed is not certain. Repeat the request in a moment, a POST with the "
                + "Idempotency-Key it was first sent with."),
        new("starting", 503, "The start is not finished", "The detail says what is still done. Ask again in a moment."),
        new("defect", 500, "Something broke here", "This is a mistake of ours; the log of the service says more."),
        .. Refusals(),
    ];

    private static readonly Dictionary<string, ProblemKind> ByCode = Kinds.ToDictionary(kind => kind.Code);

    public static ProblemKind Find(string code) => ByCode.TryGetValue(code, out var kind)
        ? kind
        : throw new InvalidOperationException($"The problem '{code}' is not in the catalogue; add a line.");

    /// <summary>What the domain refuses.</summary>
    private static IEnumerable<ProblemKind> Refusals() =>
    [
        new("title.invalid", 422, "The title is not acceptable", "A title is one line of 1 to 200 characters."),
        new("planned_at.future", 422, "Planned in the future",
            "plannedAt is when a release began to exist: now or earlier."),
        new("release.published", 409, "The release is published",
            "A published release cannot be dropped; reopen a wrong tick first."),
        new("release.dropped", 409, "The release was dropped", "Restore it before anything else is recorded on it."),
        new("reason.needed", 422, "A reason is needed", "Skipping, blocking, reopening and dropping say why."),
        new("reason.invalid", 422, "The reason is not acceptable",
            "A reason has 4000 characters at most and no control characters."),
        new("note.invalid", 422, "The note is not acceptable",
            "A note has 4000 characters at most and no control characters."),
        new("url.invalid", 422, "The URL is not acceptable",
            "A full http or https address, with the completion of the publication stage only."),
        new("stage.unknown", 422, "The release has no such stage", "The detail lists the stages it has."),
        new("stage.done", 409, "The stage is done", "A completed or skipped stage is reopened before anything else."),
        new("stage.started", 409, "The stage is started", "A started stage is completed, skipped or blocked."),
        new("stage.waiting", 409, "The stage waits for others",
            "It is ready when its predecessors are completed or skipped."),
        new("stage.predecessor_open", 409, "A strict predecessor is open",
            "The plan forbids completing this stage before the ones named."),
        new("stage.publication_not_skippable", 409, "The publication cannot be skipped",
            "Drop the release if it will not be published."),
        new("occurred.future", 422, "Still to come",
            "A transition happened now or earlier; two minutes of clock difference are allowed."),
        new("occurred.before_planned", 422, "Before the release existed",
            "A transition cannot be older than the plannedAt of its release."),
        new("occurred.before_previous", 422, "Before the stage's previous transition",
            "Transitions of one stage follow each other in time."),
        new("occurred.out_of_line", 422, "Out of line with its neighbours",
            "An amended transition stays between its neighbours of the same stage."),
        new("transition.unknown", 404, "The release has no such transition",
            "Its history lists the transitions with their sequence."),
        new("item.unknown", 404, "The checklist has no such item", "The detail lists the items it has."),
        new("stage_plan.invalid", 422, "The stage plan cannot be worked", "The errors name the stages at fault."),
        new("stage_plan.unknown", 422, "There is no such stage plan",
            "Create the plan first, or name one that exists."),
        new("stage_plan.other_publication", 409, "Another stage is the publication",
            "A published release keeps its publication stage."),
        new("series.invalid", 422, "The series is not acceptable", "The errors say what would be right."),
        new("series.unknown", 422, "There is no such series", "Open the series first, or name one that exists."),
        new("series.settings_invalid", 422, "The settings do not fit together", "The errors say what would be right."),
        new("series.closed", 409, "The series is closed", "Nothing can be promised for it any more."),
        new("zone.unknown", 422, "Unknown time zone", "Zones are those of the IANA database, such as Europe/Lisbon."),
        new("cadence.start_invalid", 422, "The start is out of range", "A cadence starts between 1970 and 2199."),
        new("cadence.rule_invalid", 422, "The rule cannot be read",
            "A recurrence rule of RFC 5545, such as FREQ=WEEKLY;BYDAY=TH."),
        new("cadence.rule_too_frequent", 422, "More than one slot a day",
            "A rule names days: DAILY, WEEKLY, MONTHLY or YEARLY."),
        new("cadence.rule_empty", 422, "The rule names no day",
            "The rule never meets a date, as the 30th of February."),
        new("cadence.from_past", 422, "A cadence cannot change the past",
            "The first date of a new rule is today or later."),
        new("break.invalid", 422, "The break is not acceptable",
            "From its first to its last day, three years at most."),
        new("slot.unknown", 422, "The series promises no slot that day",
            "Slots are named by their original local date; GET …/slots lists them."),
        new("slot.taken", 409, "Another release holds the slot",
            "Take that release off the slot first, or choose another."),
        new("slot.occupied", 409, "Another slot stands there", "A slot cannot be moved onto another one."),
        new("slot.given_up", 409, "The slot was given up", "Take it up again before it is moved."),
        new("slot.move_past", 422, "A slot cannot move into the past", "Choose a time that is still to come."),
        new("publisher.invalid", 422, "The publisher is not acceptable", "The errors say what would be right."),
        new("import.columns", 422, "The columns cannot be mapped",
            "The errors name the columns or the parts of map= at fault."),
        new("feed.unknown", 404, "No such feed", "Feed addresses are secret; this one is wrong, revoked or rotated."),
    ];
}
